package feed

import (
	"golang.org/x/text/currency"
	"golang.org/x/text/language"
)

// Structured data in the vocabulary of schema.org (release 30.0), kept to what a page says itself: no ratings, no
// prices but nothing at all. Pages under a secret address carry none.

// Thing is something that a page tells of.
type Thing struct {
	Context     string    `json:"@context,omitempty"`
	Type        string    `json:"@type"`
	Name        string    `json:"name,omitempty"`
	Headline    string    `json:"headline,omitempty"`
	Alternate   string    `json:"alternateName,omitempty"`
	Description string    `json:"description,omitempty"`
	URL         string    `json:"url,omitempty"`
	Language    string    `json:"inLanguage,omitempty"`
	Published   string    `json:"datePublished,omitempty"`
	Author      *Thing    `json:"author,omitempty"`
	IsPartOf    *Thing    `json:"isPartOf,omitempty"`
	Items       []GiveOut `json:"itemListElement,omitempty"`
}

// GiveOut is a plant that is offered at no price.
type GiveOut struct {
	Type         string `json:"@type"`
	URL          string `json:"url,omitempty"`
	Item         Thing  `json:"itemOffered"`
	Price        string `json:"price"`
	Currency     string `json:"priceCurrency"`
	Availability string `json:"availability"`
}

// Vocabulary is where the words of the structured data are defined.
const Vocabulary = "https://schema.org"

// CurrencyOf is the ISO 4217 code of a region's money, which an offer at no price must name; XXX where it is not known.
func CurrencyOf(region string) string {
	if len(region) < 2 {
		return "XXX"
	}
	r, err := language.ParseRegion(region[:2])
	if err != nil {
		return "XXX"
	}
	c, ok := currency.FromRegion(r)
	if !ok {
		return "XXX"
	}
	return c.String()
}
