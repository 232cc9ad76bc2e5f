"""How does a packet become paper: words, order of work, load list, and one PDF."""
