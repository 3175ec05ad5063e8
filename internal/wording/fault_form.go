package wording

import "strings"

// SomeID shows what an id looks like: a version 7 of RFC 9562, of nothing.
const SomeID = "018cc251-f411-7000-9b52-eb85304f5e0c"

// ambiguous knows what was given more than once.
func ambiguous(values map[string]string) string {
	if n := values["given"]; n != "" {
		return "This is given " + n + " times. Give it once."
	}
	return quoted(values) + "This can be read in more than one way. Write it out, with its unit."
}

// malformed knows the line of a text of several, and what it should look like.
func malformed(values map[string]string) string {
	if character := values["character"]; character != "" {
		return "This holds " + character + ", " + unwritten(character) + ". Take it out, or write the text anew, and send it again."
	}
	text := quoted(values) + "This is not written in the form that is asked for. Check how it is written."
	if line := values["line"]; line != "" {
		text = "Line " + line + ", " + text
	}
	if wanted := values["wanted"]; wanted != "" {
		text += " For example: " + wanted + "."
	}
	return text
}

// unwritten says what a character is that people do not write.
func unwritten(character string) string {
	switch {
	case character == "U+FFFD":
		return "which stands for a character that was broken on the way"
	case strings.HasPrefix(character, "U+202") || strings.HasPrefix(character, "U+206"):
		return "an unseen character that turns the direction of writing"
	}
	return "an unseen control character"
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
