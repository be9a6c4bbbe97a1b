"""A plant that exists only in numbers, for a week: story.py makes up what happens to its casings,
senders.py tells it over HTTP as badly as real senders do. Neither knows anything of our server but
its address, its documented messages and a key."""
