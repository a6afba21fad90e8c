package feed

import (
	"bytes"
	"encoding/json"
)

type jsonFeed struct {
	Version     string       `json:"version"`
	Title       string       `json:"title"`
	Home        string       `json:"home_page_url,omitempty"`
	Self        string       `json:"feed_url,omitempty"`
	Description string       `json:"description,omitempty"`
	Authors     []jsonAuthor `json:"authors"`
	Language    string       `json:"language,omitempty"`
	Items       []jsonItem   `json:"items"`
}

type jsonAuthor struct {
	Name string `json:"name"`
}

type jsonItem struct {
	ID        string   `json:"id"`
	URL       string   `json:"url,omitempty"`
	Title     string   `json:"title"`
	HTML      string   `json:"content_html"`
	Summary   string   `json:"summary,omitempty"`
	Published string   `json:"date_published"`
	Modified  string   `json:"date_modified"`
	Tags      []string `json:"tags,omitempty"`
}

// JSON writes a feed by JSON Feed 1.1 (jsonfeed.org/version/1.1).
func JSON(c Channel) ([]byte, error) {
	f := jsonFeed{Version: "https://jsonfeed.org/version/1.1", Title: c.Title, Home: c.Home, Self: c.JSON, Description: c.Subtitle,
		Authors: []jsonAuthor{{c.Author}}, Language: c.Language, Items: []jsonItem{}}
	for _, i := range c.Items {
		f.Items = append(f.Items, jsonItem{i.ID, i.URL, i.Title, i.HTML, i.Summary, At(i.Published), At(i.Updated), i.Tags})
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	err := e.Encode(f)
	return b.Bytes(), err
}
