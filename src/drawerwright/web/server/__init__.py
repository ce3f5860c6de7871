"""What stands behind every page: the app with its gate, pairing codes, news for open pages, the open data file."""
