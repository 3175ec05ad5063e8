package config

// Person has the commands about persons.
type Person struct {
	Erase PersonErase `cmd:"" help:"Erase a person's name for good; records go on naming the person by id."`
}

// PersonErase erases a person.
type PersonErase struct {
	Database
	ID     string `arg:"" help:"The person's id."`
	Group  string `required:"" placeholder:"SLUG" help:"The group that knows the person."`
	Reason string `required:"" help:"Why, without the name."`
}
