// A batch sheet from Go: reads a recipe, plans it, prints what to weigh.
//
//	go run . ../recipes/winter-fair.json
//
// Package lixivium beside it says how the library is found. The recipe is an invented batch for a
// winter fair.
package main

import (
	"encoding/json"
	"fmt"
	"os"

	"lixivium.example/lixivium"
)

type item struct {
	Name string
	Mass lixivium.Number
}

// What the sheet needs of a plan.
type plan struct {
	Cautions               []struct{ Says string }
	WaterToAdd             lixivium.Number `json:"water_to_add_mass"`
	Naoh                   lixivium.Number `json:"naoh_mass"`
	Koh                    lixivium.Number `json:"koh_mass"`
	Fats, Acids, Additives []item
	Batter                 lixivium.Number `json:"batter_mass"`
	Superfat               lixivium.Number
	LyeConcentration       lixivium.Number `json:"lye_concentration"`
}

func line(number lixivium.Number, unit, name string) {
	fmt.Printf("%10.2f %s  %s\n", number.Value, unit, name)
}

func (p plan) print() {
	for _, caution := range p.Cautions {
		fmt.Println("!", caution.Says)
	}
	line(p.WaterToAdd, "g", "Water")
	line(p.Naoh, "g", "Sodium hydroxide, into the water")
	line(p.Koh, "g", "Potassium hydroxide, into the water")
	for _, list := range [][]item{p.Fats, p.Acids, p.Additives} {
		for _, item := range list {
			line(item.Mass, "g", item.Name)
		}
	}
	line(p.Batter, "g", "Batter, all together")
	line(p.Superfat, "%", "Superfat, as weighed")
	line(p.LyeConcentration, "%", "Lye concentration, as weighed")
}

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: sheet RECIPE.json")
		os.Exit(2)
	}
	recipe, err := os.ReadFile(os.Args[1])
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
	var batch plan
	if err := lixivium.Call("plan", json.RawMessage(recipe), &batch); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	batch.print()
}
