package web

import (
	"context"
	"slices"
	"sync"

	"rooftally/catalog"
)

// fakeList is one list of the catalog in memory.
type fakeList[T any] struct {
	mu      sync.Mutex
	list    []T
	version int
	// fail, if set, is what every call returns.
	fail error
}

func (f *fakeList[T]) get(context.Context) ([]T, int, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return slices.Clone(f.list), f.version, f.fail
}

func (f *fakeList[T]) put(_ context.Context, base int, list []T) (bool, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.fail != nil || base != f.version {
		return false, f.fail
	}
	f.list, f.version = slices.Clone(list), f.version+1
	return true, nil
}

// fakeCatalog behaves as Catalog says.
type fakeCatalog struct {
	modules    fakeList[catalog.Datasheet]
	inverters  fakeList[catalog.StringInverter]
	micros     fakeList[catalog.MicroInverter]
	optimisers fakeList[catalog.Optimiser]
}

func (f *fakeCatalog) Modules(ctx context.Context) ([]catalog.Datasheet, int, error) {
	return f.modules.get(ctx)
}

func (f *fakeCatalog) ReplaceModules(ctx context.Context, base int, list []catalog.Datasheet) (bool, error) {
	return f.modules.put(ctx, base, list)
}

func (f *fakeCatalog) Inverters(ctx context.Context) ([]catalog.StringInverter, int, error) {
	return f.inverters.get(ctx)
}

func (f *fakeCatalog) ReplaceInverters(ctx context.Context, base int, list []catalog.StringInverter) (bool, error) {
	return f.inverters.put(ctx, base, list)
}

func (f *fakeCatalog) MicroInverters(ctx context.Context) ([]catalog.MicroInverter, int, error) {
	return f.micros.get(ctx)
}

func (f *fakeCatalog) ReplaceMicroInverters(ctx context.Context, base int, list []catalog.MicroInverter) (bool, error) {
	return f.micros.put(ctx, base, list)
}

func (f *fakeCatalog) Optimisers(ctx context.Context) ([]catalog.Optimiser, int, error) {
	return f.optimisers.get(ctx)
}

func (f *fakeCatalog) ReplaceOptimisers(ctx context.Context, base int, list []catalog.Optimiser) (bool, error) {
	return f.optimisers.put(ctx, base, list)
}

// newFakeCatalog holds the demo entries, each list at version 1.
func newFakeCatalog() *fakeCatalog {
	return &fakeCatalog{
		modules:    fakeList[catalog.Datasheet]{list: catalog.DemoDatasheets(), version: 1},
		inverters:  fakeList[catalog.StringInverter]{list: catalog.DemoInverters(), version: 1},
		micros:     fakeList[catalog.MicroInverter]{list: catalog.DemoMicroInverters(), version: 1},
		optimisers: fakeList[catalog.Optimiser]{list: catalog.DemoOptimisers(), version: 1},
	}
}
