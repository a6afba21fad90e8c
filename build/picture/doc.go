// Package picture makes a grower's photos ready for the web: bounded before they are decoded, upright, in sRGB,
// without any metadata, in the widths that pages need. Every rendition is encoded anew from pixels; no byte of an
// original is ever copied. It also draws the label that a link preview shows. It is pure: bytes in, bytes out, and the
// same bytes give the same result.
//
// Renditions are JPEG in up to three widths, or PNG for drawings. WebP is read, and not written: an encoder of our own
// took 2,000 lines and four fifths of the time of a photo to save a fifth of its bytes.
package picture
