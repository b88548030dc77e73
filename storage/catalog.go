package storage

import (
	"context"

	"rooftally/catalog"
)

// Each list of the catalog has a version: 0 if it was never filled, 1 when it
// first was, one more with every change.

// Modules returns the modules in their order and the version of the list.
func (s *Store) Modules(ctx context.Context) (list []catalog.Datasheet, version int, err error) {
	return readList(ctx, s, moduleTable())
}

// ReplaceModules puts a list in place of the modules if they are still at version
// base and tells whether it did. Base 0 fills a list that never was filled. The
// IDs must differ. All of the list is kept or nothing.
func (s *Store) ReplaceModules(ctx context.Context, base int, list []catalog.Datasheet) (replaced bool, err error) {
	return replaceList(ctx, s, moduleTable(), base, list)
}

// Inverters is [Store.Modules] for string inverters.
func (s *Store) Inverters(ctx context.Context) (list []catalog.StringInverter, version int, err error) {
	return readList(ctx, s, inverterTable())
}

// ReplaceInverters is [Store.ReplaceModules] for string inverters.
func (s *Store) ReplaceInverters(ctx context.Context, base int, list []catalog.StringInverter) (replaced bool, err error) {
	return replaceList(ctx, s, inverterTable(), base, list)
}

// MicroInverters is [Store.Modules] for micro-inverters.
func (s *Store) MicroInverters(ctx context.Context) (list []catalog.MicroInverter, version int, err error) {
	return readList(ctx, s, microTable())
}

// ReplaceMicroInverters is [Store.ReplaceModules] for micro-inverters.
func (s *Store) ReplaceMicroInverters(ctx context.Context, base int, list []catalog.MicroInverter) (replaced bool, err error) {
	return replaceList(ctx, s, microTable(), base, list)
}

// Optimisers is [Store.Modules] for DC optimisers.
func (s *Store) Optimisers(ctx context.Context) (list []catalog.Optimiser, version int, err error) {
	return readList(ctx, s, optimiserTable())
}

// ReplaceOptimisers is [Store.ReplaceModules] for DC optimisers.
func (s *Store) ReplaceOptimisers(ctx context.Context, base int, list []catalog.Optimiser) (replaced bool, err error) {
	return replaceList(ctx, s, optimiserTable(), base, list)
}

func moduleTable() table[catalog.Datasheet] {
	return table[catalog.Datasheet]{"module_sheets", func(d catalog.Datasheet) string { return d.ID }}
}

func inverterTable() table[catalog.StringInverter] {
	return table[catalog.StringInverter]{"string_inverters", func(v catalog.StringInverter) string { return v.ID }}
}

func microTable() table[catalog.MicroInverter] {
	return table[catalog.MicroInverter]{"micro_inverters", func(m catalog.MicroInverter) string { return m.ID }}
}

func optimiserTable() table[catalog.Optimiser] {
	return table[catalog.Optimiser]{"optimisers", func(o catalog.Optimiser) string { return o.ID }}
}
