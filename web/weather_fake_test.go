package web

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"sync"

	"rooftally/project"
)

// fakeWeather keeps weather files in memory and behaves as WeatherFiles says.
type fakeWeather struct {
	mu    sync.Mutex
	names map[string]string
	data  map[string][]byte
	// fail, if set, is what every call returns.
	fail error
}

func newFakeWeather() *fakeWeather {
	return &fakeWeather{names: map[string]string{}, data: map[string][]byte{}}
}

func (f *fakeWeather) PutWeatherFile(_ context.Context, name string, data []byte) (string, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.fail != nil {
		return "", f.fail
	}
	sum := sha256.Sum256(data)
	hash := hex.EncodeToString(sum[:])
	if _, kept := f.data[hash]; !kept {
		f.names[hash], f.data[hash] = name, append([]byte{}, data...)
	}
	return hash, nil
}

func (f *fakeWeather) WeatherFile(_ context.Context, hash string) (string, []byte, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.fail != nil {
		return "", nil, f.fail
	}
	data, kept := f.data[hash]
	if !kept {
		return "", nil, fmt.Errorf("weather file %s: %w", hash, project.ErrNotFound)
	}
	return f.names[hash], data, nil
}
