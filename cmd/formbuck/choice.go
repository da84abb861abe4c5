package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
)

// choices is a flag that takes words from a closed list, repeated or with commas between them.
type choices struct {
	of     []string
	single bool     // takes one word; a later one takes the place of an earlier
	chosen []string // in the order of the list, each once
}

// String is the choice as it would be written.
func (c *choices) String() string { return strings.Join(c.chosen, ",") }

// Type is the name of the value in a usage line.
func (c *choices) Type() string { return "NAME" }

// Set adds to the choice.
func (c *choices) Set(text string) error {
	if c.single {
		c.chosen = nil
	}
	for word := range strings.SplitSeq(text, ",") {
		word = strings.ToLower(strings.TrimSpace(word))
		if !slices.Contains(c.of, word) {
			return fmt.Errorf("expected %s", oneOf(c.of))
		}
		if c.single && len(c.chosen) > 0 {
			return fmt.Errorf("expected one of %s", oneOf(c.of))
		}
		c.chosen = append(c.chosen, word)
	}
	slices.SortFunc(c.chosen, func(a, b string) int { return slices.Index(c.of, a) - slices.Index(c.of, b) })
	c.chosen = slices.Compact(c.chosen)
	return nil
}

// positive is a flag that takes a number greater than 0; 0 stands for not given.
type positive float64

// String is the number as it would be written.
func (p *positive) String() string {
	if *p == 0 {
		return ""
	}
	return strconv.FormatFloat(float64(*p), 'g', -1, 64)
}

// Type is the name of the value in a usage line.
func (p *positive) Type() string { return "NUMBER" }

// Set reads the number.
func (p *positive) Set(text string) error {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || !(x > 0) || x > 1e6 {
		return fmt.Errorf("expected a number greater than 0")
	}
	*p = positive(x)
	return nil
}

// millimetres is a flag that takes a length within limits; 0 stands for not given.
type millimetres struct{ length, min, max float64 }

// String is the length as it would be written.
func (m *millimetres) String() string { return (*positive)(&m.length).String() }

// Type is the name of the value in a usage line.
func (m *millimetres) Type() string { return "MM" }

// Set reads the length.
func (m *millimetres) Set(text string) error {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || !(x >= m.min && x <= m.max) {
		return fmt.Errorf("expected a length from %g to %g mm", m.min, m.max)
	}
	m.length = x
	return nil
}

// complete lets a shell complete the words that a flag takes.
func complete(cmd *cobra.Command, flag string, words []string) {
	// The only error is a flag that does not exist, which the completion's test would show.
	_ = cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
}
