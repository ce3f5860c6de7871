"""One description of every drawing, in millimetres of paper, and a writer for each place it appears."""
