// Package picture makes a grower's photos ready for the web: bounded before they are decoded, upright, in sRGB,
// without any metadata, in the widths that pages need. Every rendition is encoded anew from pixels; no byte of an
// original is ever copied. It also draws the label that a link preview shows. It is pure: bytes in, bytes out, and the
// same bytes give the same result.
//
// Renditions are JPEG, or PNG for drawings. Where it saves a tenth or more, the same pictures stand beside the JPEGs as
// WebP, which [slipleaf/build/webp] writes.
package picture
