"""The record of the roof on its way: shared with phones, paired, brought in, kept."""
