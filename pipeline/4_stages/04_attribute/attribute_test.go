package attribute_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/04_attribute"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// Another program has written an edition anew: whose a digit is, is told by its
// look, alternatives and digits of a single witness included, also where that
// program drops what says that they are alternatives (as importers do). Else
// an open suggestion would come back as the composer's.
func TestWhoseByTheLook(t *testing.T) {
	for _, name := range policies.Shipped() {
		p, err := policies.ByName(name)
		require.NoError(t, err)
		looks := p.Looks()
		whose := func(style score.Style, alternate bool) score.Responsibility {
			s := &score.Score{Edition: &score.EditionMark{Fields: map[string]string{policies.LooksField: looks}},
				Notes: []score.Note{
					{
						Indications: []score.Indication{
							{Text: "3", Fingers: []int{3}, Style: style, Alternate: alternate},
						},
					},
				}}
			got, err := attribute.Whose(s, score.Composer)
			require.NoError(t, err)
			return got[0][0]
		}
		for _, who := range []score.Responsibility{score.Composer, score.Earlier, score.Open} {
			require.Equal(t, who, whose(p.Style(who), false), "%s, %s", name, who)
		}
		if p.PrintsAlternatives() {
			require.Equal(t, score.Open, whose(p.AlternativeStyle(score.Open), true), name)
			require.Equal(t, score.Open, whose(p.AlternativeStyle(score.Open), false), name)
		}
		own := p.Style(score.Composer)
		own.Enclosure = score.Brackets // the text's own brackets
		require.Equal(t, score.Composer, whose(own, false), name)
	}
}
