"""What test cuts say: the next setting, what is learnt, what contradicts what, and the cuts that the app keeps."""
