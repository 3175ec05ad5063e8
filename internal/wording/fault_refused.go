package wording

// forbidden knows what a record would lift, and whom to ask.
func forbidden(values map[string]string) string {
	least := values["least"]
	if values["origin"] != "" {
		return "This was sent by a page of another site, so nothing was done. Open the page here and send it again."
	}
	if values["lifts"] == "setting" {
		return "With this correction the anchor would stand better than it does: something in doubt about how it was set, or what keeps people off it, would go. That takes at least the role of " +
			least + ", who names a person and says why. Ask a " + least + " to correct it."
	}
	if values["lifts"] != "" {
		return "This record would lift what another decided: that the anchor is out of use, in doubt or to be repaired. Correcting that takes at least the role of " +
			least + ". Record what you saw as an inspection of its own, or ask a " + least + "."
	}
	if values["unmarks"] != "" {
		return "This anchor is out of use, and the marking is what keeps people off it. Taking it away takes at least the role of " + least +
			". Leave the marking where it is and ask a " + least + "."
	}
	whom := "a steward or an owner"
	if least == "owner" {
		whom = "an owner"
	}
	if least == "" {
		return "Your role does not allow this. Ask " + whom + " of the group."
	}
	yours := "Your role"
	if role := values["role"]; role != "" {
		yours = "Your role, " + role + ","
	}
	return yours + " does not allow this: it takes at least the role of " + least + ". Ask " + whom + " of the group."
}

// ErrorTitle names a failure for a page; one that no reader causes keeps the
// name that the protocol has for it.
func ErrorTitle(status int, name string) string {
	switch status {
	case 403:
		return "Not allowed"
	case 404:
		return "Not found"
	case 422:
		return "This cannot be right"
	}
	return name
}
