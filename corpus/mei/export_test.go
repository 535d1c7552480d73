package mei

// PassedOver lets tests ask whether an attribute of an element is read or passed over as what is not compared; ReadAt
// whether it counts as read there.
func PassedOver(element, name, value string) bool { return passedOver(element, name, value) }

// ReadAt says that an attribute counts as read at an element, whatever its value.
func ReadAt(element, name string) bool {
	return readAt[name][element] || readValues[name][element] != nil
}
