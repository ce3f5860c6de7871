"""Pictures of test pieces: their files, and what is read in them."""
