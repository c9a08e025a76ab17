"""For authors of plugins: strategies, laws and `check_family`. Needs the extra `testing` (hypothesis)."""
