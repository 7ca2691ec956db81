package host

import (
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
)

// digestScheme names the one scheme that is known. Another scheme is never a
// match.
const digestScheme = "sha256:"

// Digest is a SHA-256 with its scheme. The zero Digest matches nothing.
type Digest struct {
	sum   [sha256.Size]byte
	known bool
}

// ParseDigest reads "sha256:" and 64 hexadecimal digits; the scheme may be
// left out.
func ParseDigest(s string) (Digest, error) {
	digits, _ := strings.CutPrefix(s, digestScheme)
	if scheme, _, named := strings.Cut(digits, ":"); named {
		return Digest{}, fmt.Errorf("the digest scheme %q is not known; write sha256 in 64 hexadecimal digits", scheme)
	}
	var d Digest
	if len(digits) != hex.EncodedLen(len(d.sum)) {
		return Digest{}, fmt.Errorf("a SHA-256 has 64 hexadecimal digits, not %d", len(digits))
	}
	if _, err := hex.Decode(d.sum[:], []byte(digits)); err != nil {
		return Digest{}, errors.New("a SHA-256 has 64 hexadecimal digits and nothing else")
	}
	d.known = true
	return d, nil
}

func digestOf(sum []byte) Digest {
	d := Digest{known: true}
	copy(d.sum[:], sum)
	return d
}

// Hex gives the 64 digits as they stand in lixivium.yaml.
func (d Digest) Hex() string { return hex.EncodeToString(d.sum[:]) }

// String gives scheme and digits; empty for the zero Digest.
func (d Digest) String() string {
	if !d.known {
		return ""
	}
	return digestScheme + d.Hex()
}

// Matches compares in constant time.
func (d Digest) Matches(o Digest) bool {
	return d.known && o.known && subtle.ConstantTimeCompare(d.sum[:], o.sum[:]) == 1
}

// pluginDigest covers an executable and the rules it says it reads.
func pluginDigest(executable Digest, rules string) Digest {
	h := sha256.New()
	h.Write([]byte("lixivium plugin 1\x00"))
	h.Write(executable.sum[:])
	h.Write([]byte(rules))
	return digestOf(h.Sum(nil))
}
