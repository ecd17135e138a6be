"""The desk: a local web page."""
