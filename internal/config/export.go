package config

// Export writes the anchor list.
type Export struct {
	Database
	Group  string `required:"" placeholder:"SLUG" help:"The group whose anchors are written."`
	Own    bool   `help:"Under the headings of the list taken over last, instead of our own."`
	Import string `placeholder:"ID" help:"Under the headings of this list: the id that its import report gave."`
	Out    string `placeholder:"FILE" help:"Where to write (default: to the terminal). The file appears only when it is whole."`
}
