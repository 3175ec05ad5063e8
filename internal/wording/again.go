package wording

// Sentences about a form that was sent by somebody who was not signed in any
// more.
const (
	AgainSignIn = "You are not signed in any more, and nothing was recorded. What you typed is kept on this page: sign in, " +
		"and the form comes back as you left it, for you to look over and send."
	AgainTooLong = "You are not signed in any more, and nothing was recorded. What you sent is too long to be kept on this page. " +
		"Go back in your browser and copy it before you sign in."
	AgainOnlyFile = "You are not signed in any more, and nothing was taken. Sign in, then choose the file again."
	AgainNothing  = "You are not signed in any more, and nothing was changed. Sign in, then do it again."
	NotSentYet    = "Nothing was recorded yet: you were not signed in when this was sent. Look it over, then send it once more."
	AgainFile     = "The file was not kept. Choose it again."
)
