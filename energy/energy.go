// Package energy reckons what photovoltaic modules on a roof yield: the sun's
// place, the hourly weather of a typical year, light on a tilted plane, shade,
// heat, losses and ageing. It is pure: values in, values out; weather files are
// read from bytes that the caller brings.
//
// Main types: [Site], [Year] (hourly weather, from [ParseWeather] or
// [SyntheticYear]), [Scene] (planes, modules, obstructions), [ModuleModel],
// [Losses] and [Input], from which [Simulate] makes a [Result].
//
// Frames: world metres, x east, y north, z up. Each plane has its own slope
// frame: u along the eave, to the right when looking up the slope, v up the
// slope, both from [Plane.Origin]. Bearings count clockwise from north, 0 to
// 360; elevations up from the horizon. Irradiance is W/m2, irradiation kWh/m2,
// powers are W, energies kWh, temperatures C.
//
// It leaves out the choice of strings and inverters, prices, batteries, snow
// that slides, spectral effects and light that obstructions reflect. Every
// formula, source, default and range is in docs/energy.md. A yield is a design
// estimate for a typical year, not a promise for any one.
package energy
