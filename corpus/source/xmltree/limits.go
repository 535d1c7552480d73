package xmltree

// Limits bound what one document may ask for.
type Limits struct {
	Depth      int // elements inside each other
	Elements   int // below one element that is read as a tree
	Attributes int // of one element
}
