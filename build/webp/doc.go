// Package webp writes photographs as lossy WebP: one key frame of VP8 (RFC 6386) in the simple container of RFC 9649.
// It stands alone, is pure, and gives the same bytes for the same picture on every machine: all its sums are whole
// numbers.
//
// It goes over a picture twice. The first pass chooses for each macroblock (16 × 16 pixels) how it is predicted from
// its neighbours and counts the tokens that the remainders need; the second chooses again, now knowing what a token
// costs in this picture, and writes. Choices weigh the squared error against the bits, and so does each level of a
// coefficient.
package webp
