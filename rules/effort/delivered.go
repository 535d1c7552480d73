package effort

// Interpretable is the fitted table of at most 200 numbers.
func Interpretable() *Weights { return HandSet() }

// Delivered is the table that fingerings are delivered with: the fitted terms and the habit of editors.
func Delivered() *Weights { return HandSet() }
