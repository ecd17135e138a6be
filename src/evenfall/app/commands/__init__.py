"""Commands, a file each; `cli` registers them."""
