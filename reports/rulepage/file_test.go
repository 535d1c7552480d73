package rulepage_test

import (
	"testing"

	"fingerproof/reports/rulepage"

	"github.com/stretchr/testify/require"
)

func TestThePageQuotesWhereTheFilesDiffer(t *testing.T) {
	score := []byte(`<part>
<measure number="1">
<attributes><divisions>1</divisions></attributes>
<note><pitch><step>C</step></pitch><dot/></note> <!-- a remark -->
<note><rest/></note>
</measure>
<measure number="2">
<note><pitch><step>C</step></pitch></note>
<note><rest/></note>
</measure>
<measure number="3">
<note><rest/></note>
</measure>
</part>`)
	wrong, right := rulepage.InFile(score, 0, 1, score, 1, 1, false)
	require.Equal(t, []string{"… <dot/></note>"}, wrong)
	require.Equal(t, []string{"… </note>"}, right)

	wrong, right = rulepage.InFile(score, 1, 1, score, 2, 1, false)
	require.Equal(t, []string{"<note><pitch><step>C</step></pitch></note>"}, wrong)
	require.Empty(t, right)

	wrong, right = rulepage.InFile(score, 0, 1, score, 0, 1, false)
	require.Empty(t, wrong)
	require.Empty(t, right)
}
