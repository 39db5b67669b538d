"""The coupled zones through the year; nothing but numbers."""
