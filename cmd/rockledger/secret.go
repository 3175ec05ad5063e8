package main

import (
	"bufio"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"unicode/utf8"

	"rockledger/internal/auth"
	"rockledger/internal/config"
	"rockledger/internal/fault"
)

// secret is a new password: its hash, and its text where it was made here.
type secret struct {
	hash, made string
}

// told says what the password is, once, if whoever asked does not know it.
func (s secret) told() string {
	if s.made == "" {
		return ""
	}
	return fmt.Sprintf("\n    password: %s\n\nIt is shown once; only its hash is kept. Hand it over in private.\n", s.made)
}

// secretOf makes a password, or reads one that somebody chose.
func secretOf(ctx context.Context, c config.Password, stdin io.Reader) (secret, error) {
	s := secret{made: rand.Text()}
	text := s.made
	if c.Stdin {
		s.made = ""
		var err error
		if text, err = readSecret(stdin); err != nil {
			return s, err
		}
	}
	hash, err := auth.HashPassword(ctx, text)
	s.hash = hash
	return s, err
}

// readSecret reads the first line. A terminal is refused: it would show what is
// typed.
func readSecret(stdin io.Reader) (string, error) {
	if f, ok := stdin.(*os.File); ok {
		if info, err := f.Stat(); err == nil && info.Mode()&os.ModeCharDevice != 0 {
			return "", errors.New("--password-stdin reads no terminal, which would show the password: " +
				`pipe it, as in: read -rs WORD && printf %s "$WORD" | rockledger account …`)
		}
	}
	line, err := bufio.NewReader(io.LimitReader(stdin, auth.MaxPassword+2)).ReadString('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return "", fmt.Errorf("read the password: %w", err)
	}
	line = strings.TrimRight(line, "\r\n")
	var checks fault.Checks
	checks.Require(utf8.RuneCountInString(line) >= auth.MinPassword, "password", fault.TooShort, "min", fmt.Sprint(auth.MinPassword))
	return line, checks.Err()
}
