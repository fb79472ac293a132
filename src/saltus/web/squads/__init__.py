"""The squad: who they are, how they jump, what needs the eye."""
