package project

import "github.com/go-json-experiment/json/jsontext"

// In the browser's program the parts of a document that no count depends on are
// text, carried as it is: their types and checks would make it some 30 kB larger.
// The server checks them when it saves.
type (
	Datasheet = jsontext.Value
	Wiring    = jsontext.Value
	Loads     = jsontext.Value
	Cost      = jsontext.Value
)

// What a file of an older schema gets is not looked into either.
func defaultWiring() Wiring { return Wiring("{}") }
func defaultLoads() Loads   { return Loads("{}") }
func defaultCost() Cost     { return Cost("{}") }

func (ps *Problems) uncounted(Document) {}
