package attribute_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/04_attribute"

	"github.com/stretchr/testify/require"
)

func TestWhichWitnessesBind(t *testing.T) {
	readings := []attribute.Reading{
		{Siglum: "P", Fingers: []int{3}, Responsibility: score.Earlier},
		{Siglum: "A", Fingers: []int{2}, Responsibility: score.Composer},
		{Siglum: "B", Fingers: []int{2}, Responsibility: score.Composer},
	}
	for which, finger := range map[string]int{"none": 0, "all": 3, "composer": 2, "agreeing": 2} {
		require.Equal(t, finger, attribute.Binding{Which: which}.Given(readings), which)
	}
	said := func(siglum string) (bool, bool) { return siglum == "P", siglum != "B" }
	require.Equal(t, 3, attribute.Binding{Which: "none", Said: said}.Given(readings))
}
