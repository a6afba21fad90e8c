// Package picture makes a grower's photos ready for the web: bounded before they are decoded, upright, in sRGB,
// without any metadata, in the widths that pages need. Every rendition is encoded anew from pixels; no byte of an
// original is ever copied. It also draws the label that a link preview shows. It is pure: bytes in, bytes out, and the
// same bytes give the same result.
//
// Renditions are JPEG, or PNG for drawings. WebP and AVIF would save a quarter to a half of the bytes, but there is no
// lossy encoder of either in Go alone: the choice is C code, or the same compiled for a virtual machine, with its
// weight and its own decoding bugs. Three widths of JPEG keep a page within its budget without them.
package picture
