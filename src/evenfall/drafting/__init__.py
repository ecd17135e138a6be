"""A job begun: asked for by phone, completed by shown defaults, and which of those matter."""
