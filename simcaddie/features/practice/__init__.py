"""Tell what practice pays."""
