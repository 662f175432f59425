"""Pictures taken on the walk: when was each taken, and what was being said then?"""
