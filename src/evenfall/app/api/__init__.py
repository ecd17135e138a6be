"""The desk's routes for programs: JSON in, JSON out, described at ``/openapi.json``."""
