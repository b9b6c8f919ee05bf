"""Snow: rain on it, ice, and where the standard asks for lopsided load."""
