package page

import (
	"fmt"
	"html/template"
)

func (b *Book) growthFigure(from string, args []string) (template.HTML, error) {
	return "", fmt.Errorf("growth of %s cannot be drawn", args[0])
}
