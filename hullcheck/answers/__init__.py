"""One module a question: a craft in, a frozen answer out."""
