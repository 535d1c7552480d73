package source

import (
	"reflect"
	"strings"
)

// Detach gives each string in what v points to memory of its own, and changes nothing else. Words taken from a text are
// parts of it: one title that is kept keeps the whole score in memory. Fields that their package keeps to itself are
// left as they are.
func Detach[T any](v *T) { detach(reflect.ValueOf(v)) }

func detach(v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(strings.Clone(v.String()))
	case reflect.Pointer:
		if !v.IsNil() {
			detach(v.Elem())
		}
	case reflect.Slice, reflect.Array:
		if !holdsText(v.Type().Elem().Kind()) {
			return
		}
		for i := range v.Len() {
			detach(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Field(i).CanSet() {
				detach(v.Field(i))
			}
		}
	case reflect.Map:
		if v.Len() == 0 {
			return
		}
		own := reflect.MakeMapWithSize(v.Type(), v.Len())
		for each := v.MapRange(); each.Next(); {
			key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
			key.Set(each.Key())
			value.Set(each.Value())
			detach(key)
			detach(value)
			own.SetMapIndex(key, value)
		}
		v.Set(own)
	}
}

// holdsText says whether a value of a kind can have strings in it.
func holdsText(k reflect.Kind) bool {
	return k == reflect.String || k == reflect.Pointer || k == reflect.Slice || k == reflect.Array || k == reflect.Struct ||
		k == reflect.Map
}
