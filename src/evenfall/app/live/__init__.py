"""The job worked while it is edited: `worker` works it, `numbers` says what moved."""
