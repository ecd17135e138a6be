"""Wind, fixings, timber and snow."""
