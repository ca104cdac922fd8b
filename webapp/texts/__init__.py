"""User text, one module an audience; `webapp.say` joins them."""
