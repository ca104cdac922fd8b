"""What the tests share: a tablet made of Python, a server, and the cast."""
