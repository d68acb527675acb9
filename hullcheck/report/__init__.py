"""An answer in, text or bytes out."""
