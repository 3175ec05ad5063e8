package wording

// malformed knows the line of a text of several, and what it should look like.
func malformed(values map[string]string) string {
	text := quoted(values) + "This is not written in the form that is asked for. Check how it is written."
	if line := values["line"]; line != "" {
		text = "Line " + line + ", " + text
	}
	if wanted := values["wanted"]; wanted != "" {
		text += " For example: " + wanted + "."
	}
	return text
}

// duplicate knows the batch that is there already.
func duplicate(values map[string]string) string {
	if batch := values["batch"]; batch != "" {
		return "This batch is there already, as “" + batch + "”: spaces, case and punctuation make no other batch of it. Use that one, or check what is printed."
	}
	if by := values["replaced_by"]; by != "" {
		return "This was corrected already, by " + by + ", so that two corrections would stand beside each other. Read that one, and correct it."
	}
	if twice := values["twice"]; twice != "" {
		return "“" + twice + "” stands here twice. Give each once."
	}
	return "This is there already. Give another, or use the one that is there."
}
