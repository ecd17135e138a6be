"""The nouns that travel: the job as a person gave it, the rates, the weather, and findings."""
