package hull

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Lists and objects are taken apart as encoding/json does it.
func TestValuesAreTakenApartAsTheLibraryDoes(t *testing.T) {
	for _, text := range []string{
		`[]`, "[ \n]", `[1]`, `[-1.5e+7 ,true,false , null]`, `["a,]","b\"]","c\\",""]`, `[[],[[1,2],{}],{"a":[1]}]`, "[\r\n\t\"\u00fc\u2013\" , {\"a\" : \"}\"}\t]",
	} {
		var want []json.RawMessage
		require.NoError(t, json.Unmarshal([]byte(text), &want), text)
		items, ok := (&jsonReader{text: []byte(text)}).items(node{[]byte(text), 100}, "it", 9)
		require.True(t, ok, text)
		require.Len(t, items, len(want), text)
		for i, n := range items {
			assert.Equal(t, string(want[i]), string(n.raw), text)
			assert.Equal(t, text[n.at-100:][:len(n.raw)], string(n.raw), "where it stands")
		}
	}
	for _, text := range []string{
		`{}`, "{\n}", `{"a":1}`, `{"a" : "}" , "b,\"":{"c":[1,{}]},"":null}`, `{"\u0061\n":"\ud83d\ude00","long":"–"}`, "{\"\xff\":\"\xfe\"}",
	} {
		var want map[string]json.RawMessage
		require.NoError(t, json.Unmarshal([]byte(text), &want), text)
		o := (&jsonReader{text: []byte(text)}).object(node{[]byte(text), 0}, "it")
		require.Len(t, o.left, len(want), text)
		for key, value := range want {
			assert.Equal(t, string(value), string(o.left[key].raw), text)
			var s string
			if json.Unmarshal(value, &s) == nil && value[0] == '"' {
				assert.Equal(t, s, unquoted(o.left[key].raw), text)
			}
		}
	}
}
