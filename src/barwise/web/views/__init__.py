"""One module a page: parse, call one service, render."""
