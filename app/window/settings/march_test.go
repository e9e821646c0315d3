package settings

import (
	"testing"

	"fyne.io/fyne/v2/container"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
)

// TestMarchFollowsThePlan: what is told is of the plan at hand, also after a change,
// and not at all when it is switched off.
func TestMarchFollowsThePlan(t *testing.T) {
	d := windowtest.NewDesk(t)
	set := Settings{&kit.Form{}, d}
	set.Part(func() bool { return true })
	container.NewVBox(set.marchPart())
	d.Lazy = append(d.Lazy, set.Update)
	set.Update()
	assert.Empty(t, marchText(d))
	d.ShowMarch(true)
	d.CatchUp()
	assert.Contains(t, marchText(d), "Reckoning strip after strip")
	told := func() string {
		(<-windowtest.Posted)()
		m := d.Marched()
		require.NotNil(t, m)
		require.NoError(t, m.Err)
		want := ""
		for i := range m.Ways {
			want = answer.MarchText(d.Planking(), m.Layer, &m.Ways[i], d.Units)
			assert.Contains(t, marchText(d), want)
		}
		return want
	}
	before := told()
	rule := d.Plan().Rules()
	rule.EdgeStrain = 0.19
	require.True(t, d.Edit("another rule", func(p *hull.Plan) error { p.Trade = rule; return nil }))
	assert.Nil(t, d.Marched(), "what was found was of the plan before")
	d.CatchUp()
	assert.NotEqual(t, before, told())
	d.ShowMarch(false)
	assert.Nil(t, d.Marched())
	assert.Empty(t, marchText(d))
}
