package suggest

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
)

// full puts something other than nothing into every field, each time something else.
func full(v reflect.Value, next *int) {
	*next++
	switch v.Kind() {
	case reflect.Bool:
		v.SetBool(true)
	case reflect.String:
		v.SetString(string(rune('a' + *next%20)))
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		full(v.Index(0), next)
		full(v.Index(1), next)
	case reflect.Array:
		for i := range v.Len() {
			full(v.Index(i), next)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			full(v.Field(i), next)
		}
	case reflect.Map:
		key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		full(key, next)
		full(value, next)
		v.Set(reflect.MakeMap(v.Type()))
		v.SetMapIndex(key, value)
	default:
		switch {
		case v.CanInt():
			v.SetInt(int64(*next%100 - 200*(*next%2)*(*next%3)%100))
			if v.IsZero() {
				v.SetInt(7)
			}
		case v.CanUint():
			v.SetUint(uint64(1 + *next%5))
		}
	}
}

func TestEveryFieldOfASuggestionIsKept(t *testing.T) {
	var s, back Suggestion
	next := 0
	full(reflect.ValueOf(&s).Elem(), &next)
	s.Notes = append(s.Notes, NoteFingering{}, s.Notes[0])
	data, err := s.GobEncode()
	require.NoError(t, err)
	require.NoError(t, back.GobDecode(data))
	require.Equal(t, s, back)
	for n := range data { // nothing that is cut off or damaged is taken for whole, or takes the program down
		var cut Suggestion
		require.Error(t, cut.GobDecode(data[:n]), n)
	}
	var none, nothing Suggestion
	data, err = none.GobEncode()
	require.NoError(t, err)
	require.NoError(t, nothing.GobDecode(data))
	require.Equal(t, none, nothing)
}
