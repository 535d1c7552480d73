package source

import (
	"crypto/sha256"
	"encoding/hex"
)

// Sum is the SHA-256 of bytes in hexadecimal.
func Sum(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
