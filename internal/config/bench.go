package config

import "errors"

// Bench measures the register at size in a private throw-away database.
type Bench struct {
	Anchors []int  `default:"10000" placeholder:"N,..." help:"Sizes of the invented registers, from 2000 anchors; each is measured, and the largest set against the smallest."`
	JSON    string `name:"json" type:"path" placeholder:"FILE" help:"Also write the figures to this file."`
	Clients int    `default:"1" help:"How many work at a time."`
	Rounds  int    `default:"3" help:"Medians are of so many rounds."`
	List    string `type:"path" placeholder:"FILE" help:"Instead of measuring, write an invented anchor list of the first size to this file, 50 rows to a site, to measure importing with."`
	Seconds int    `default:"2" help:"How long each turn lasts, seconds."`
}

// Validate wants registers with something in them: an empty list would measure
// nothing.
func (b *Bench) Validate() error {
	for _, n := range b.Anchors {
		if n < 1 {
			return errors.New("--anchors wants sizes of one anchor or more")
		}
	}
	return nil
}
