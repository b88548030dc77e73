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
 * @property {'portrait'|'landscape'|'mixed'} turn
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
/** @typedef {{set: string, distances: Distances, style: 'rows'|'grid', gap_eave_m: number, gap_slope_m: number, end_allowance_m: number}} Rules */
/** @typedef {{id: string, catalog_id: string, label: string, pmax_w: number, length_m: number, width_m: number, invented: boolean}} Candidate */
/** @typedef {{mode: 'fill'|'size', size_w: number, chosen: string}} Target */
/**
 * @typedef {object} Doc
 * @property {number} schema
 * @property {Site} site
 * @property {Plane[]} planes
 * @property {KeepOut[]} keep_outs
 * @property {Rules} rules
 * @property {Candidate[]} candidates
 * @property {Target} target
 */

/** @typedef {{index: number, from: [number, number], to: [number, number], length_m: number, kind: string, guessed: boolean, street: boolean}} EdgeResult */
/** @typedef {{why: string, ring: [number, number][]}} ZoneResult */
/** @typedef {{id: string, label: string, use: boolean, pitch_deg: number, azimuth_deg: number, plan_area_m2: number, slope_area_m2: number, usable_area_m2: number, ridge_height_m: number, edges: EdgeResult[], zones: ZoneResult[], wide_zones: ZoneResult[]}} PlaneResult */
/** @typedef {{u_m: number, v_m: number, w_m: number, h_m: number, plan: [number, number][], in_shade: boolean}} Module */
/** @typedef {{plane_id: string, count: number, in_shade: number, pdc_w: number, kwdc: number, free_area_m2: number, bound: number, proved: boolean, modules: Module[]}} PlaneLayoutResult */
/** @typedef {{count: number, in_shade: number, pdc_w: number, kwdc: number, w_per_m2: number, free_area_m2: number, by_plane: PlaneLayoutResult[]}} LayoutResult */
/** @typedef {{need: number, fits: boolean, layout: LayoutResult, ridge_widened: boolean}} SizeResult */
/** @typedef {{id: string, letter: string, label: string, pmax_w: number, module_area_m2: number, fill: LayoutResult, size: SizeResult|null, ridge_widened: boolean, coverage: number}} CandidateResult */
/** @typedef {{path: string, message: string}} Finding */
/** @typedef {{planes: PlaneResult[], keep_outs: {id: string, footprint: [number, number][]}[], candidates: CandidateResult[], plan_area_m2: number, rules: {id: string, title: string, notes: string[]}, findings: Finding[]}} Result */

/**
 * What is selected. `corner` and `edge` refine a selected plane or polygon
 * keep-out: the corner's index, or the index of the corner an edge leaves.
 * @typedef {{type: 'plane'|'keepout', id: string}} Item
 * @typedef {{items: Item[], corner: number|null, edge: number|null}} Selection
 */

// What the editor alone knows; never saved.

/** @typedef {{x_m: number, y_m: number, pxPerM: number}} Camera plan point at the middle of the board, and the zoom */
/** @typedef {{widthPx: number, heightPx: number}} Board 0 x 0 until it is measured */
/** @typedef {{from: Point, to: Point, why: string}} Guide a line that explains a snap */
/** @typedef {{at: {x: number, y: number}, lines: string[], field: {label: string, text: string}|null}} Tip readings beside the pointer; field is a length being typed */
/**
 * What a mode draws over the roof while it is at work.
 * @typedef {object} Overlay
 * @property {Point[]} ring the outline so far, the moving point last
 * @property {boolean} closed draw it as a closed outline
 * @property {'plane'|'obstruction'|'shade'|''} what
 * @property {Point|null} snap where the pointer caught something
 * @property {string} snapWord what it caught
 * @property {Guide[]} guides
 * @property {{id: string, index: number}|null} edge an edge offered for picking
 * @property {Tip|null} tip
 */

export {};
