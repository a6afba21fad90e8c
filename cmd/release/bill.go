package main

import (
	"bytes"
	"cmp"
	"debug/buildinfo"
	"slices"

	cyclonedx "github.com/CycloneDX/cyclonedx-go"
)

// billOf lists what a program is built from, as it says itself, in CycloneDX 1.6 (ECMA-424). It has no time and no serial
// number, so that the same program gives the same bill.
func billOf(program, version string) ([]byte, error) {
	info, err := buildinfo.ReadFile(program)
	if err != nil {
		return nil, err
	}
	main := cyclonedx.Component{BOMRef: "pkg:golang/slipleaf@" + version, Type: cyclonedx.ComponentTypeApplication, Name: "slipleaf", Version: version,
		Licenses: &cyclonedx.Licenses{{License: &cyclonedx.License{ID: "MIT"}}}}
	parts := []cyclonedx.Component{library("stdlib", info.GoVersion)}
	for _, m := range info.Deps {
		parts = append(parts, library(m.Path, m.Version))
	}
	slices.SortFunc(parts, func(a, b cyclonedx.Component) int { return cmp.Compare(a.BOMRef, b.BOMRef) })
	var refs []string
	for _, p := range parts {
		refs = append(refs, p.BOMRef)
	}
	bom := cyclonedx.NewBOM()
	bom.SerialNumber = ""
	bom.Metadata = &cyclonedx.Metadata{Component: &main}
	bom.Components = &parts
	bom.Dependencies = &[]cyclonedx.Dependency{{Ref: main.BOMRef, Dependencies: &refs}}
	var b bytes.Buffer
	err = cyclonedx.NewBOMEncoder(&b, cyclonedx.BOMFileFormatJSON).SetPretty(true).Encode(bom)
	return b.Bytes(), err
}

// library is a module by its package URL (ECMA-427).
func library(path, version string) cyclonedx.Component {
	ref := "pkg:golang/" + path + "@" + version
	return cyclonedx.Component{BOMRef: ref, Type: cyclonedx.ComponentTypeLibrary, Name: path, Version: version, PackageURL: ref}
}
