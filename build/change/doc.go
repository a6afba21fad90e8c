// Package change writes to the files of a journal for commands and forms. A change is one or more files, each with what
// it replaces: it is written whole or not at all, also through a killed program or a full disk, never over what somebody
// else wrote meanwhile, and can be taken back. The last changes are kept in .undo/ of the journal, readable by its owner
// alone. It judges nothing: whoever calls it has read the journal as it would be ([With]) and found it in order.
package change
