"""The sawn section of a test piece, read from an array of pixels."""
