"""The armature in words and pictures: what is wrong, how it is connected, which cautions its tests need."""
