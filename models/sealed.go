package models

import (
	"crypto/aes"
	"crypto/cipher"
	"crypto/hkdf"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
)

// sealer encrypts the few secrets that have to be read again, so that they
// don't stand in the database as they are. The keys are derived from those that
// sign access tokens (HKDF, RFC 5869), under labels of their own: the key that
// seals tells nothing of the one that signs.
//
// What that is worth depends on where the signing key is. Given by the
// environment, a copy of the database opens nothing; kept in the database,
// a whole copy holds both.
type sealer struct {
	current string // name of the key that seals
	keys    map[string]cipher.AEAD
}

const (
	sealLabel = "tenter: seals small secrets"
	nameLabel = "tenter: names a key"
	nameBytes = 6
)

// errSealedElsewhere is a secret sealed with a key that is not here any more.
var errSealedElsewhere = errors.New("sealed with a key that is not here any more")

// newSealer takes the secrets of the signing keys, the one in use first.
func newSealer(secrets [][]byte) (*sealer, error) {
	s := &sealer{keys: map[string]cipher.AEAD{}}
	for i, secret := range secrets {
		name, err := hkdf.Key(sha256.New, secret, nil, nameLabel, nameBytes)
		if err != nil {
			return nil, fmt.Errorf("name a key: %w", err)
		}
		key, err := hkdf.Key(sha256.New, secret, nil, sealLabel, 32)
		if err != nil {
			return nil, fmt.Errorf("derive a key: %w", err)
		}
		block, err := aes.NewCipher(key)
		if err != nil {
			return nil, fmt.Errorf("derived key: %w", err)
		}
		box, err := cipher.NewGCMWithRandomNonce(block)
		if err != nil {
			return nil, fmt.Errorf("derived key: %w", err)
		}
		s.keys[hex.EncodeToString(name)] = box
		if i == 0 {
			s.current = hex.EncodeToString(name)
		}
	}
	if s.current == "" {
		return nil, errors.New("no key to seal secrets with")
	}
	return s, nil
}

// seal encrypts a secret that belongs to owner, who is bound to it: another's
// row does not open with it.
func (s *sealer) seal(secret []byte, owner string) (sealed []byte, key string) {
	return s.keys[s.current].Seal(nil, nil, secret, []byte(owner)), s.current
}

func (s *sealer) open(sealed []byte, key, owner string) ([]byte, error) {
	box, known := s.keys[key]
	if !known {
		return nil, errSealedElsewhere
	}
	secret, err := box.Open(nil, nil, sealed, []byte(owner))
	if err != nil {
		return nil, fmt.Errorf("open a sealed secret: %w", err)
	}
	return secret, nil
}

// SealWith sets the keys by which secrets are kept in the database, the one in
// use first. The server does so before it serves; nothing else may seal or open.
func (s *Store) SealWith(secrets [][]byte) error {
	sealer, err := newSealer(secrets)
	if err != nil {
		return err
	}
	s.sealer = sealer
	return nil
}

// randomBytes is what a secret is made of.
func randomBytes(n int) []byte {
	b := make([]byte, n)
	rand.Read(b) //nolint:errcheck // never fails, by its documentation since Go 1.24
	return b
}
