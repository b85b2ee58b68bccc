"""The golfer: the bag and its shot patterns, touch, putting, and what stands in for numbers nobody measured."""
