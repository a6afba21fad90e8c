package site

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
)

// The files of both caches are sealed: a head that says what they are, the hash of the rest (SHA-256 in hex), a line's
// end, and the rest. Any byte that changed is noticed. It is no guard against somebody who means harm, who could make the
// hash anew: what is unsealed is still looked at before it is used.

// hashLen is the length of the hash in a sealed file.
const hashLen = 2 * sha256.Size

// seal makes a sealed file.
func seal(head string, rest []byte) []byte {
	return append([]byte(head+hashOf(rest)+"\n"), rest...)
}

// unseal gives what a sealed file holds, and its hash; ok is false for one of another head, and for one that is damaged.
func unseal(head string, file []byte) (rest []byte, hash string, ok bool) {
	after, ok := bytes.CutPrefix(file, []byte(head))
	if !ok || len(after) <= hashLen || after[hashLen] != '\n' {
		return nil, "", false
	}
	rest = after[hashLen+1:]
	hash = hashOf(rest)
	return rest, hash, hash == string(after[:hashLen])
}

func hashOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
