//go:build !js

package project

// defaultCost is that of a new document: nothing typed.
func defaultCost() Cost { return Cost{} }

// Cost holds what the user types beside the prices of the datasheets. All prices
// are in one currency, the user's own.
type Cost struct {
	// Currency is shown after amounts: 0 to 12 characters.
	Currency string `json:"currency"`
	// RestPerModule is every other cost for each module and RestFixed for the
	// whole project, each 0 to 1e9; nil is not given.
	RestPerModule *float64 `json:"rest_per_module"`
	RestFixed     *float64 `json:"rest_fixed"`
}
