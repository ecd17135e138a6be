"""In which days: tasks and bays, watertight every evening."""
