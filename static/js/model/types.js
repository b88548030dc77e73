// The document and evaluation as the browser sees them; field by field the
// same as project/document.go and project/result.go.

/** @typedef {{x_m: number, y_m: number}} Point plan metres, x east, y north */
/** @typedef {{x_m: number, y_m: number, edge: string, street: boolean}} Corner */
/**
 * @typedef {object} Site
 * @property {string} label
 * @property {number} lat_deg
 * @property {number} lon_deg
 * @property {number} elevation_m
 * @property {number} utc_offset_h
 * @property {'metric'|'imperial'} units
 * @property {'nec'|'iec'} rule_family
 * @property {boolean} invented
 */
/**
 * @typedef {object} Plane
 * @property {string} id
 * @property {string} label
 * @property {boolean} use
 * @property {Corner[]} ring
 * @property {number} pitch_deg
 * @property {number} azimuth_deg
 * @property {number} eave_height_m
 * @property {number|null} module_limit
 * @property {'portrait'|'landscape'|'either'|'mixed'} turn
 * @property {string} covering
 * @property {number} rafter_spacing_m
 */
/** @typedef {'chimney'|'vent'|'pipe'|'roof_window'|'shade'|'other'} KeepOutKind */
/**
 * @typedef {object} KeepOut
 * @property {string} id
 * @property {string} label
 * @property {KeepOutKind} kind
 * @property {'polygon'|'rect'|'circle'} shape
 * @property {Point[]=} points
 * @property {Point=} center
 * @property {number=} width_m
 * @property {number=} depth_m
 * @property {number=} radius_m
 * @property {number=} turn_deg
 * @property {number} clearance_m
 * @property {number} height_m
 * @property {''|'off_limits'|'last_resort'} shade
 */
/** @typedef {{eave_m: number, ridge_m: number, rake_m: number, hip_m: number, valley_m: number, break_m: number, wall_m: number, party_wall_m: number}} Distances */
/** @typedef {{set: string, distances: Distances, style: 'rows'|'columns'|'grid'|'best', tidy_cost_modules: number, gap_eave_m: number, gap_slope_m: number, end_allowance_m: number}} Rules */
/** @typedef {Record<string, unknown> & {id: string, label: string}} Product a catalog entry with all its figures, as project/document.go copies it */
/** @typedef {{id: string, catalog_id: string, label: string, pmax_w: number, length_m: number, width_m: number, invented: boolean, datasheet: Product|null}} Candidate the datasheet's id is catalog_id, its label, power, sides and mark are the candidate's */
/** @typedef {{mode: 'fill'|'size', size_w: number, max_blocks: number, min_access_pct: number, chosen: string}} Target min_access_pct: places under this share of the open plane's light are left out; 0 leaves none out */
/** @typedef {{x_m: number, y_m: number, turn: 'portrait'|'landscape', locked: boolean}} HandModule lower left corner, looking up the slope */
/** @typedef {{candidate_id: string, plane_id: string, fill: boolean, modules: HandModule[]}} HandLayout */
/** @typedef {{id: string, label: string, lat_deg: number, lon_deg: number, elevation_m: number, distance_km: number, height_m: number, cold_c: number|null, cold_basis: string, hot_c: number|null, hot_basis: string, usable: boolean, warnings: string[], source: string}} StationCopy */
/**
 * @typedef {object} Wiring
 * @property {''|'string'|'micro'|'optimiser'} kind
 * @property {Product|null} inverter
 * @property {Product|null} micro
 * @property {Product|null} optimiser
 * @property {'dwelling'|'building'|'ground'} place
 * @property {'flush'|'open_rack'} mounting
 * @property {number|null} cell_rise_k
 * @property {number|null} cold_c
 * @property {number|null} hot_air_c
 * @property {StationCopy|null} station
 * @property {boolean} mix_parallel
 * @property {number|null} branch_breaker_a
 * @property {boolean} module_shutdown
 * @property {boolean} hazard_control
 * @property {boolean} arc_fault
 * @property {number|null} main_breaker_a
 * @property {number|null} busbar_a
 * @property {number|null} phase_limit_a
 * @property {1|3} supply_phases
 */
/** @typedef {{edition: '7-16'|'7-22', ground_pa: number, exposure_ce: number, thermal_ct: number, importance_is: number, curve: 'cold'|'cool'|'warm', slippery: boolean, roof_r_m2k_per_w: number, ventilated: boolean, low_slope_cap_pa: number, extra_pa: number}} ASCESnow */
/** @typedef {{ground_pa: number, exposure_ce: number, thermal_ct: number, snow_guards: boolean, exceptional: boolean, exceptional_factor: number, psi0: number, extra_pa: number}} ENSnow */
/** @typedef {{edition: '7-16'|'7-22', speed_mps: number, exposure: 'b'|'c'|'d', mean_roof_height_m: number, building_width_m: number, direction_kd: number, hill_kzt: number, elevation_ke: number, low_b_070: boolean, enclosed: boolean, tilt_to_roof_deg: number, height_above_roof_m: number, all_exposed: boolean, gcp: {zone: string, up: number, down: number}[], least_pa: number}} FlushWind */
/** @typedef {{up_pa: number, down_pa: number}} TypedWind */
/**
 * @typedef {object} Loads
 * @property {ASCESnow|null} asce_snow
 * @property {ENSnow|null} en_snow
 * @property {FlushWind|null} flush_wind
 * @property {TypedWind|null} typed_wind
 * @property {'along_eave'|'up_slope'} rails
 * @property {number|null} span_m
 * @property {number} cantilever_share
 * @property {number} stick_m
 * @property {number} end_m
 * @property {number} clamp_inset
 * @property {number} rail_kg_per_m
 * @property {number} attachment_kg
 */
/** @typedef {{label: string, ghi_kwh_m2_day: number[], dhi_kwh_m2_day: number[]|null, air_c: number[], wind_ms: number}} MonthlyWeather twelve values each, January first */
/** @typedef {{hash: string, name: string, format: 'epw'|'tmy3', label: string, lat_deg: number, lon_deg: number, utc_offset_h: number, elevation_m: number, hours: number, notes: string[]}} WeatherFile */
/** @typedef {{source: 'station'|'monthly'|'file', monthly: MonthlyWeather|null, file: WeatherFile|null}} Weather what another source than the one in use needs is kept */
/** @typedef {{id: string, label: string, x_m: number, y_m: number, radius_m: number, base_m: number, top_m: number, crown: 'round'|'column', evergreen: boolean, leaf_on_pass: number, leaf_off_pass: number}} Tree heights above the ground that eaves are measured from */
/** @typedef {{id: string, label: string, ring: Point[], base_m: number, top_m: number}} Building a neighbouring building or another upright solid */
/** @typedef {{azimuth_deg: number, elevation_deg: number}} HorizonPoint */
/** @typedef {{trees: Tree[], buildings: Building[], horizon: HorizonPoint[]}} Surroundings */
/** @typedef {{id: string, label: string, side: 'dc'|'ac', monthly_pct: number[]}} LossLine */
/** @typedef {{sky: string, glass: string, albedo: number, losses: LossLine[], weather_sigma_pct: number, model_sigma_pct: number}} YieldTerms */
/** @typedef {{currency: string, rest_per_module: number|null, rest_fixed: number|null}} Cost */
/**
 * @typedef {object} Doc
 * @property {number} schema
 * @property {Site} site
 * @property {Plane[]} planes
 * @property {KeepOut[]} keep_outs
 * @property {Rules} rules
 * @property {Candidate[]} candidates
 * @property {Target} target
 * @property {HandLayout[]} hand
 * @property {Wiring} wiring
 * @property {Loads} loads
 * @property {Cost} cost
 * @property {Weather} weather
 * @property {Surroundings} surroundings
 * @property {YieldTerms} yield
 */

/** @typedef {{index: number, from: [number, number], to: [number, number], length_m: number, kind: string, guessed: boolean, street: boolean}} EdgeResult */
/** @typedef {{why: string, ring: [number, number][]}} ZoneResult */
/** @typedef {{id: string, label: string, use: boolean, pitch_deg: number, azimuth_deg: number, plan_area_m2: number, slope_area_m2: number, usable_area_m2: number, ridge_height_m: number, edges: EdgeResult[], zones: ZoneResult[], wide_zones: ZoneResult[]}} PlaneResult */
/** @typedef {{u_m: number, v_m: number, w_m: number, h_m: number, plan: [number, number][], in_shade: boolean, turn: 'portrait'|'landscape', hand: boolean, locked: boolean}} Module */
/** @typedef {{rail_runs: number, blocks: number, turns: number}} Tidiness */
/** @typedef {'outside'|'setback'|'path'|'keep_out'|'shade_off_limits'|'end'|'overlap'|'limit'} RefusedWhy */
/** @typedef {{index: number, plan: [number, number][], why: RefusedWhy, with: string, locked: boolean}} RefusedModule */
/** @typedef {{style: 'best', more: number, pdc_w: number, rail_runs: number, blocks: number, turns: number}} OfferResult */
/** @typedef {{plane_id: string, count: number, in_shade: number, pdc_w: number, kwdc: number, free_area_m2: number, bound: number, proved: boolean, modules: Module[], tidiness: Tidiness, hand: ''|'by_hand'|'around', refused: RefusedModule[], gained: number}} PlaneLayoutResult */
/** @typedef {{count: number, in_shade: number, pdc_w: number, kwdc: number, w_per_m2: number, free_area_m2: number, tidiness: Tidiness, gained: number, left_dark: number, by_plane: PlaneLayoutResult[]}} LayoutResult left_dark: how many fewer than without a limit of light */
/** @typedef {{need: number, fits: boolean, ridge_widened: boolean, value: number, value_bound: number, value_proved: boolean, value_words: string, layout: LayoutResult}} SizeResult */
/** @typedef {{id: string, letter: string, label: string, pmax_w: number, module_area_m2: number, fill: LayoutResult, size: SizeResult|null, offer: OfferResult|null, ridge_widened: boolean, coverage: number}} CandidateResult */
/** @typedef {{path: string, message: string}} Finding */
/** @typedef {{planes: PlaneResult[], keep_outs: {id: string, footprint: [number, number][]}[], candidates: CandidateResult[], plan_area_m2: number, rules: {id: string, title: string, notes: string[]}, findings: Finding[], sunlight_key: string}} Result sunlight_key: the light it was counted with, '' for none */

/**
 * The yearly light on one plane, by square cells. The frame is that of the plane
 * when it was worked out.
 * @typedef {object} PlaneSunlight
 * @property {string} plane_id
 * @property {number} origin_x_m plan of u = v = 0
 * @property {number} origin_y_m
 * @property {number} azimuth_deg
 * @property {number} pitch_deg
 * @property {number} u_m lower left corner of the first cell
 * @property {number} v_m
 * @property {number} step_m
 * @property {number} columns
 * @property {number} rows
 * @property {number} open_kwh_m2 of the plane with nothing around
 * @property {number[]} kwh_m2 row by row from the lower left; -1 off the plane
 */
/** @typedef {{key: string, words: string, warnings: string[], planes: PlaneSunlight[]}} Sunlight words say where the weather is from, warnings what to know of it */
/** @typedef {{plane_id: string, obstruction_id: string, kind: string, pass: number, plan: [number, number][]}} Shadow pass: share of light that comes through, above 0 for trees */
/** @typedef {{sun: {azimuth_deg: number, elevation_deg: number}, day: 'ordinary'|'polar_day'|'polar_night', rises_h: number, noon_h: number, sets_h: number, dark: boolean, behind_planes: string[], outlines: Shadow[]}} Shadows dark: no direct light on the whole roof; behind_planes: turned away from the sun */
/** @typedef {{month: number, day: number, clock_h: number}} Moment of the year, standard time */
/** @typedef {{plane_id: string, index: number, access: number, monthly_access: number[], ac_kwh: number}} ModuleYield index as the layout lists the plane's modules; shares of the open plane's light */
/** @typedef {{id: string, letter: string, why: string, count: number, total: {ac_year: number}, modules: ModuleYield[]}} CandidateYield why: what is missing, '' for nothing */
/** @typedef {{why: string, candidates: CandidateYield[]}} YieldResult */
/** @typedef {{id: string, label: string, kind: string, removed_kwh: number, trimmed_to_m: number, trimmed_kwh: number}} Worth of one obstruction, kWh a year; a tree's also of a cut to a height above ground */
/** @typedef {{plane_id: string, ring: Point[]}} ShadeArea */
/**
 * What was asked of the server about a document.
 * @template T
 * @typedef {{value: T|null, of: Doc|null, step: 'idle'|'asking'|'failed'|'stopped', message: string}} Asked value is the last answer, of the document it is about
 */

/**
 * What is selected. `corner` and `edge` refine a selected plane or polygon
 * keep-out: the corner's index, or the index of the corner an edge leaves.
 * `modules` stands in for items while modules are worked on.
 * @typedef {{type: 'plane'|'keepout'|'tree'|'building', id: string}} Item
 * @typedef {{x_m: number, y_m: number, turn: 'portrait'|'landscape'}} ModulePlace as in HandModule
 * @typedef {{plane: string, places: ModulePlace[]}} Picks modules of one plane, of the candidate that is shown
 * @typedef {{items: Item[], corner: number|null, edge: number|null, modules?: Picks}} Selection
 */

// What the editor alone knows; never saved.

/** @typedef {{x_m: number, y_m: number, pxPerM: number}} Camera plan point at the middle of the board, and the zoom */
/** @typedef {{widthPx: number, heightPx: number}} Board 0 x 0 until it is measured */
/** @typedef {{from: Point, to: Point, why: string}} Guide a line that explains a snap */
/** @typedef {{at: {x: number, y: number}, lines: string[], field: {label: string, text: string}|null}} Tip readings beside the pointer; field is a length being typed */
/** @typedef {{ring: Point[], refused: boolean}} Ghost a module on its way to a place */
/**
 * What a mode draws over the roof while it is at work.
 * @typedef {object} Overlay
 * @property {Point[]} ring the outline so far, the moving point last
 * @property {boolean} closed draw it as a closed outline
 * @property {'plane'|'obstruction'|'shade'|'tree'|'building'|''} what
 * @property {Point|null} snap where the pointer caught something
 * @property {string} snapWord what it caught
 * @property {Guide[]} guides
 * @property {{id: string, index: number}|null} edge an edge offered for picking
 * @property {Tip|null} tip
 * @property {Ghost[]} ghosts
 * @property {HandModule[]} lifted modules of the document that the ghosts stand for
 * @property {{mode: string, points: Point[]}|null} outline corners placed of an outline that is not closed yet
 * @property {{from: {x: number, y: number}, to: {x: number, y: number}}|null} box drawn to select what is in it, pixels
 */

export {};
