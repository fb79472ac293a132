"""An invented squad: people who do not exist, with tests made by the push-off model."""
