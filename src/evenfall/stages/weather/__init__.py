"""Weather against the plan: forecasts read, gates, risk over years, this morning, own hours."""
