"""The printed build sheet."""
