"""The feed, the push and the doors, over real connections: nothing lost, nothing twice."""
