package main

import (
	"bytes"
	"cmp"
	"slices"

	cyclonedx "github.com/CycloneDX/cyclonedx-go"
)

// billOf lists what each program is built from, as it says itself, in CycloneDX 1.6 (ECMA-424): the programs with their
// archives' checksums, the modules of all, and which program holds which; each system has a set of its own. It has no time and
// no serial number, so that the same programs give the same bill.
func billOf(all []made, version string) ([]byte, error) {
	main := application("slipleaf", version)
	main.Licenses = &cyclonedx.Licenses{{License: &cyclonedx.License{ID: "MIT"}}} // of the programs in it, too
	var parts []cyclonedx.Component
	var programs []string
	var holds []cyclonedx.Dependency
	for _, m := range all {
		program := application(m.file, version)
		program.Hashes = &[]cyclonedx.Hash{{Algorithm: cyclonedx.HashAlgoSHA256, Value: m.sum()}}
		libraries := []cyclonedx.Component{library("stdlib", m.modules.GoVersion)}
		for _, d := range m.modules.Deps {
			libraries = append(libraries, library(d.Path, d.Version))
		}
		var refs []string
		for _, l := range libraries {
			refs = append(refs, l.BOMRef)
		}
		slices.Sort(refs)
		programs = append(programs, program.BOMRef)
		holds = append(holds, cyclonedx.Dependency{Ref: program.BOMRef, Dependencies: &refs})
		parts = append(append(parts, program), libraries...)
	}
	byRef := func(a, b cyclonedx.Component) int { return cmp.Compare(a.BOMRef, b.BOMRef) }
	slices.SortFunc(parts, byRef)
	parts = slices.CompactFunc(parts, func(a, b cyclonedx.Component) bool { return byRef(a, b) == 0 })
	bom := cyclonedx.NewBOM()
	bom.SerialNumber = ""
	bom.Metadata = &cyclonedx.Metadata{Component: &main}
	bom.Components = &parts
	holds = append([]cyclonedx.Dependency{{Ref: main.BOMRef, Dependencies: &programs}}, holds...)
	bom.Dependencies = &holds
	var b bytes.Buffer
	err := cyclonedx.NewBOMEncoder(&b, cyclonedx.BOMFileFormatJSON).SetPretty(true).Encode(bom)
	return b.Bytes(), err
}

// application is the program as a whole, or as it lies in one archive.
func application(name, version string) cyclonedx.Component {
	return cyclonedx.Component{BOMRef: name + "@" + version, Type: cyclonedx.ComponentTypeApplication, Name: name, Version: version}
}

// library is a module by its package URL (ECMA-427).
func library(path, version string) cyclonedx.Component {
	ref := "pkg:golang/" + path + "@" + version
	return cyclonedx.Component{BOMRef: ref, Type: cyclonedx.ComponentTypeLibrary, Name: path, Version: version, PackageURL: ref}
}
