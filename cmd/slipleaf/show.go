package main
import ("fmt";"io";"slipleaf/build/journal")
func show(w io.Writer, c journal.Complaint, line string, colour bool){ fmt.Fprintln(w,c,"|",line,"|",c.Hint) }
