package draw

import (
	"encoding/csv"
	"os"
	"strconv"
)

// readGrowers reads the reference table: habit and height of each plant, with the source of each row.
func readGrowers() []grower {
	f, err := os.Open("testdata/reference/habits.csv")
	if err != nil {
		panic(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		panic(err)
	}
	var out []grower
	for _, row := range rows[1:] {
		lo, errLo := strconv.ParseFloat(row[2], 64)
		hi, errHi := strconv.ParseFloat(row[3], 64)
		if errLo != nil || errHi != nil {
			panic(row[0])
		}
		out = append(out, grower{row[0], Habit(row[1]), lo + (hi-lo)*0.6})
	}
	return out
}
