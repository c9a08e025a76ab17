"""The gallery: a site of blocks to look at, compare, choose from and print, and the index of a repository's recipes."""
