"""Files of force plates, read into one shape: :class:`~saltus.recordings.recording.Recording`."""
