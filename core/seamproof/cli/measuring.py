"""`measure`: is a handout true to size?"""
