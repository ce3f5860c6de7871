"""One description of every drawing, and several writers."""
