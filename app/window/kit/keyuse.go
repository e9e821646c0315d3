package kit

// KeyUse tells what some keys do, for the list of keys.
type KeyUse struct{ Keys, Does string }

// ControlKeys are those of what stands in panels and dialogs.
var ControlKeys = []KeyUse{
	{Keys: "Tab, Shift+Tab", Does: "the next control, or the one before"},
	{Keys: "Return", Does: "presses the button that has the focus, or else the one that stands out in a dialog"},
	{Keys: "Space", Does: "presses a button, sets a mark, opens a list to choose from"},
	{Keys: "Escape", Does: "leaves a dialog or a menu"},
	{Keys: "Arrows", Does: "in a table or list: the next cell or row; in a list to choose from: the next choice"},
	{Keys: "Home, End", Does: "the first and the last of a row, or of a list"},
	{Keys: "Page Up, Page Down", Does: "a page of rows up or down"},
	{Keys: "F2, a figure", Does: "in the table of strakes: enters a figure in the cell, as a double click does; Return takes it, Escape leaves it"},
	{Keys: "Menu", Does: "in a table: the menu of the cell"},
}
