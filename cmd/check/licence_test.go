package main

import "testing"

// Sentences of the licences' own texts, as SPDX lists them.
func TestLicencesAreNamed(t *testing.T) {
	const bsd = "Redistribution and use in source and binary forms, with or without\nmodification, are permitted provided that the following conditions are met:"
	for text, want := range map[string]string{
		"Apache License\n   Version 2.0, January 2004":                                                   "Apache-2.0",
		"Permission is hereby granted, free of charge, to any person obtaining a copy\nof this software": "MIT",
		bsd: "BSD-2-Clause",
		bsd + " 3. Neither the name of the copyright holder nor":                           "BSD-3-Clause",
		bsd + " 3. All advertising materials mentioning features 4. Neither the name of":   "",
		"Permission to use, copy, modify, and/or distribute this software for any purpose": "ISC",
		"GNU GENERAL PUBLIC LICENSE Version 3":                                             "", "All rights reserved.": "", "": "",
	} {
		if got := licenceIn(text); got != want {
			t.Errorf("%.40q: %q, not %q", text, got, want)
		}
	}
}
