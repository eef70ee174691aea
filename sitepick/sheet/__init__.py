"""Sheet: what is handed out, as data, words and files. No Qt here."""
