"""The services: what a kill leaves, what a wrong variable says, what a stop ends."""
