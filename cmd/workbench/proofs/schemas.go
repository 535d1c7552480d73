package proofs

import (
	"maps"
	"slices"
	"strings"

	"github.com/beevik/etree"
)

// allowed are the attributes that elements may have, with the values that a schema lists of them; none where it lists none.
type allowed map[string]map[string][]string

func (a allowed) add(element, attribute string, values []string) {
	if a[element] == nil {
		a[element] = map[string][]string{}
	}
	for _, v := range values {
		if !slices.Contains(a[element][attribute], v) {
			a[element][attribute] = append(a[element][attribute], v)
		}
	}
	if _, known := a[element][attribute]; !known {
		a[element][attribute] = nil
	}
}

func sortedKeys(of map[string][]string) []string { return slices.Sorted(maps.Keys(of)) }

// xsdAttributes reads them out of an XML schema, elements of one name taken together.
func xsdAttributes(root *etree.Element) allowed {
	byName := map[string]*etree.Element{}
	for _, e := range root.ChildElements() {
		byName[e.Tag+" "+e.SelectAttrValue("name", "")] = e
	}
	var values func(kind string) []string
	values = func(kind string) (out []string) {
		t := byName["simpleType "+kind]
		if t == nil {
			return nil
		}
		for _, e := range t.FindElements(".//enumeration") {
			out = append(out, e.SelectAttrValue("value", ""))
		}
		for _, e := range t.FindElements(".//restriction") {
			out = append(out, values(e.SelectAttrValue("base", ""))...)
		}
		for _, e := range t.FindElements(".//union") {
			for _, member := range strings.Fields(e.SelectAttrValue("memberTypes", "")) {
				out = append(out, values(member)...)
			}
		}
		return out
	}
	out := allowed{}
	var gather func(element string, at *etree.Element)
	gather = func(element string, at *etree.Element) {
		if at == nil {
			return
		}
		for _, c := range at.ChildElements() {
			switch c.Tag {
			case "attribute":
				if name := c.SelectAttrValue("name", ""); name != "" {
					out.add(element, name, values(c.SelectAttrValue("type", "")))
				}
			case "attributeGroup":
				gather(element, byName["attributeGroup "+c.SelectAttrValue("ref", "")])
			case "extension", "restriction":
				gather(element, byName["complexType "+c.SelectAttrValue("base", "")])
				gather(element, c)
			case "element":
			default:
				gather(element, c)
			}
		}
	}
	for _, e := range root.FindElements("//element") {
		name, kind := e.SelectAttrValue("name", ""), e.SelectAttrValue("type", "")
		if name == "" {
			continue
		}
		gather(name, byName["complexType "+kind])
		gather(name, e.SelectElement("complexType"))
	}
	return out
}

// rngAttributes reads them out of a RELAX NG schema.
func rngAttributes(root *etree.Element) allowed {
	defines := map[string][]*etree.Element{}
	for _, d := range root.FindElements("//define") {
		name := d.SelectAttrValue("name", "")
		defines[name] = append(defines[name], d)
	}
	var values func(at *etree.Element, seen map[string]bool) []string
	values = func(at *etree.Element, seen map[string]bool) (out []string) {
		for _, c := range at.ChildElements() {
			switch ref := c.SelectAttrValue("name", ""); {
			case c.Tag == "value":
				out = append(out, strings.TrimSpace(c.Text()))
			case c.Tag == "ref" && !seen[ref]:
				seen[ref] = true
				for _, d := range defines[ref] {
					out = append(out, values(d, seen)...)
				}
			case c.Tag != "ref":
				out = append(out, values(c, seen)...)
			}
		}
		return out
	}
	out := allowed{}
	for _, e := range root.FindElements("//element") {
		name := e.SelectAttrValue("name", "")
		if name == "" {
			continue
		}
		seen := map[string]bool{}
		var gather func(at *etree.Element)
		gather = func(at *etree.Element) {
			for _, c := range at.ChildElements() {
				switch ref := c.SelectAttrValue("name", ""); {
				case c.Tag == "attribute":
					if ref != "" && !strings.Contains(ref, ":") {
						out.add(name, ref, values(c, map[string]bool{}))
					}
				case c.Tag == "ref" && !seen[ref]:
					seen[ref] = true
					for _, d := range defines[ref] {
						gather(d)
					}
				case c.Tag != "ref" && c.Tag != "element":
					gather(c)
				}
			}
		}
		gather(e)
	}
	return out
}
