// Package xmltree reads XML into trees of elements that know where they stand
// in the document's text. It bounds what a document may ask for and names file
// and place of every fault. What elements mean is the formats' matter.
package xmltree
