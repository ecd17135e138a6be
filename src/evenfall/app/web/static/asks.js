// What the walk asks, in everyday words: one entry a fact. `more` stands behind "more".
// p: path in the job file; u: unit; pick: [value, words]; draw: small picture by value.

export const KINDS = [['wall', 'house wall'], ['verge', 'verge'], ['eaves', 'eaves'], ['parapet', 'parapet'], ['step', 'step'], ['party_line', 'boundary']]
const YES = [[true, 'yes'], [false, 'no']]

// Shapes to begin with: corners, those that turn in, and the outline for its picture.
export const SHAPES = [
  { name: 'square', n: 4, inner: [], d: 'M6 26H54V6H6Z' },
  { name: 'L, wide at the house', n: 6, inner: [3], d: 'M6 34H54V20H30V6H6Z' },
  { name: 'L, wide at the far end', n: 6, inner: [2], d: 'M6 34H30V20H54V6H6Z' },
  { name: 'L, narrow on the right', n: 6, inner: [4], d: 'M6 34H54V6H30V20H6Z' },
  { name: 'L round the house', n: 6, inner: [5], d: 'M30 34H54V6H6V20H30Z' },
  { name: 'U', n: 8, inner: [4, 5], d: 'M6 34H54V6H40V20H20V6H6Z' },
  { name: 'T', n: 8, inner: [2, 7], d: 'M22 34H38V20H54V6H6V20H22Z' },
]

const TERRAIN = {
  coast: 'M2 30q5 -6 10 0t10 0t10 0t10 0t10 0t10 0M2 36q5 -6 10 0t10 0t10 0t10 0t10 0t10 0M40 24V14l8 -6l8 6V24',
  open_country: 'M2 32Q18 24 34 30T68 26M12 29v-6M9 25h6M50 28V18l6 -5l6 5V27',
  village: 'M2 34H68M8 34V22l8 -6l8 6V34M32 34q-2 -14 5 -14t5 14M50 34V24l7 -6l7 6V34',
  town: 'M2 34H68M6 34V14h12V34M22 34V20l6 -5l6 5V34M38 34V10h12V34M54 34V18h10V34M9 18h6M9 24h6M41 15h6M41 21h6M41 27h6',
}
const HINGE = {
  top: 'M8 6H40V34H8ZM8 34L24 6L40 34', bottom: 'M8 6H40V34H8ZM8 6L24 34L40 6', left: 'M8 6H40V34H8ZM40 6L8 20L40 34',
  right: 'M8 6H40V34H8ZM8 6L40 20L8 34', sliding: 'M8 6H40V34H8ZM24 6V34M13 20h8m-3 -3l3 3l-3 3', fixed: 'M8 6H40V34H8ZM8 20H40M24 6V34',
}
const DECK = {
  planks: 'M4 12H20V26H4ZM22 12H38V26H22ZM40 12H56V26H40Z', plywood: 'M4 12H56V26H4ZM4 16.7H56M4 21.3H56', osb: 'M4 12H56V26H4ZM8 15l9 4M20 23l8 -7M31 16l10 5M44 23l8 -6M12 24l5 -2',
  chipboard: 'M4 12H56V26H4ZM9 16h1M16 21h1M22 15h1M29 22h1M35 17h1M42 21h1M49 16h1M13 24h1M39 24h1M26 19h1',
  strawboard: 'M4 12H56V26H4ZM7 25L16 13M14 25L23 13M21 25L30 13M28 25L37 13M35 25L44 13M42 25L51 13', woodwool: 'M4 12H56V26H4ZM6 16q4 6 8 0t8 4t8 -4t8 4t8 -3t8 3M6 22q5 -5 10 0t10 -1t10 1t10 -1t8 2',
}

export const GROUPS = [
  { name: 'place', says: 'Where it stands', asks: [
    { p: 'site.terrain', ask: 'What lies round the house?', draw: TERRAIN, pick: [['coast', 'the open sea'], ['open_country', 'fields, few trees'], ['village', 'houses and trees'], ['town', 'a town, close built']] },
    { p: 'site.distance_to_sea_km', ask: 'How far to the sea?', u: 'km' },
    { p: 'site.roof_height_m', ask: 'From the ground up to the roof', u: 'm' },
    { p: 'site.altitude_m', ask: 'Height above the sea', u: 'm ', more: true },
    { p: 'site.map_wind_m_s', ask: 'Wind of the map there', u: 'm/s', more: true },
    { p: 'site.snow_zone', ask: 'Snow zone of the map', pick: [1, 2, 3, 4, 5, 6], more: true },
    { p: 'site.climate_region', ask: 'Climate region, 1 to 21', u: '', more: true },
    { p: 'site.rain_l_s_m2', ask: 'Rain of the map there', u: 'l/s per m²', more: true },
    { p: 'site.latitude_deg', ask: 'Latitude', u: '°', more: true },
    { p: 'site.longitude_deg', ask: 'Longitude, west below 0', u: '°', more: true },
  ] },
  { name: 'felt', says: 'Under the felt', asks: [
    { p: 'survey.covering.thickness_mm', ask: 'Old felt, thickness where it was cut', u: 'mm' },
    { p: 'survey.covering.layers', ask: 'How many layers of felt?', pick: [1, 2, 3, 4, 5, 6] },
    { p: 'survey.covering.chippings', ask: 'Chippings on it?', pick: YES },
    { p: 'survey.covering.laid_year', ask: 'Laid about which year?', u: '' },
    { p: 'survey.covering.asbestos', ask: 'Asbestos sample of the felt', pick: [['not_sampled', 'not taken yet'], ['none_found', 'none found'], ['found', 'found']] },
    { p: 'survey.deck.kind', ask: 'What boards carry the felt?', draw: DECK, pick: [['planks', 'planks'], ['plywood', 'plywood'], ['osb', 'OSB'], ['chipboard', 'chipboard'], ['strawboard', 'strawboard'], ['woodwool', 'woodwool']] },
    { p: 'survey.deck.thickness_mm', ask: 'Thickness of these boards', u: 'mm' },
    { p: 'survey.deck.renew_percent', ask: 'How much of them to renew?', u: '%' },
    { p: 'survey.joists.depth_mm', ask: 'Depth of the joists', u: 'mm' },
    { p: 'survey.joists.width_mm', ask: 'Width of the joists', u: 'mm' },
    { p: 'survey.joists.spacing_mm', ask: 'From middle to middle of the joists', u: 'mm' },
    { p: 'survey.joists.span_m', ask: 'Span from support to support', u: 'm' },
    { p: 'survey.joists.along', ask: 'Which side do the joists run along?', pick: 'sides' },
    { p: 'survey.joists.ends', ask: 'Ends of the joists', pick: [['sound', 'sound'], ['soft', 'soft'], ['rotten', 'rotten']] },
    { p: 'survey.joists.sag_mm', ask: 'Sag in the middle', u: 'mm', more: true },
    { p: 'survey.joists.strength_class', ask: 'Strength class', pick: ['C16', 'C24'], more: true },
    { p: 'survey.covering.sample_300_by_300_kg', ask: 'Weight of a sample 300 by 300', u: 'kg', more: true },
    { p: 'survey.covering.thickness_give_or_take_mm', ask: 'Felt, give or take', u: 'mm', more: true },
    { p: 'survey.deck.widest_gap_mm', ask: 'Widest gap between the boards', u: 'mm', more: true },
    { p: 'survey.deck.dish_under_2m_mm', ask: 'Deepest dish under a 2 m straight-edge', u: 'mm', more: true },
  ] },
  { name: 'inside', says: 'The room below', asks: [
    { p: 'survey.below.room', ask: 'Which room is it?', u: 'words' },
    { p: 'survey.below.humidity_class', ask: 'How damp is its use?', pick: [[1, 'store, workshop'], [2, 'office, shop'], [3, 'home, kitchen'], [4, 'bath, canteen'], [5, 'pool, laundry']] },
    { p: 'survey.below.indoor_c', ask: 'How warm is it kept?', u: '°C' },
    { p: 'survey.below.quilt_mm', ask: 'Quilt above the ceiling', u: 'mm' },
    { p: 'survey.below.quilt_wet', ask: 'Is the quilt wet?', pick: YES },
    { p: 'survey.below.cables_in_void', ask: 'Cables between the joists?', pick: YES },
    { p: 'survey.below.ceiling_mm', ask: 'Ceiling, thickness', u: 'mm', more: true },
    { p: 'survey.below.ceiling_vcl', ask: 'A vapour layer in the ceiling?', pick: YES, more: true },
    { p: 'survey.below.old_vents', ask: 'Old vents along the edges', u: '', more: true },
  ] },
  { name: 'who', says: 'Whose roof', asks: [
    { p: 'job.title', ask: 'A name for the job', u: 'words' },
    { p: 'job.client', ask: 'Whose roof is it?', u: 'words' },
    { p: 'job.address', ask: 'Where is it?', u: 'words' },
    { p: 'job.building', ask: 'What building?', pick: [['house', 'house'], ['flat', 'flats'], ['garage', 'garage']] },
    { p: 'job.listed_or_conservation', ask: 'Listed, or in a conservation area?', pick: YES },
    { p: 'job.nation', ask: 'In which nation?', pick: [['england', 'England'], ['wales', 'Wales'], ['scotland', 'Scotland'], ['northern_ireland', 'Northern Ireland']] },
    { p: 'job.reference', ask: 'Your reference, no spaces', u: 'words', more: true },
    { p: 'survey.tape_accuracy_mm', ask: 'What is one tape good to?', u: 'mm', more: true },
  ] },
  { name: 'choices', says: 'What is built', asks: [
    { p: 'design.falls.kind', ask: 'How is the fall made?', pick: [['keep', 'as it is'], ['shims', 'shims'], ['firrings', 'firrings'], ['tapered', 'tapered boards']] },
    { p: 'design.falls.low_side', ask: 'Which side does the water run to?', pick: 'sides' },
    { p: 'design.hold_boards_by', ask: 'What holds the boards?', pick: [['adhesive', 'glue'], ['screws', 'screws']] },
    { p: 'design.board', ask: 'Which board?', pick: 'boards' },
    { p: 'design.sheet', ask: 'Which sheet?', pick: 'sheets' },
    { p: 'design.vcl', ask: 'Which vapour layer?', pick: 'vcls' },
    { p: 'crew.people', ask: 'How many hands?', pick: [1, 2, 3, 4, 5, 6] },
    { p: 'calendar.start_on', ask: 'Begin on', u: 'date' },
  ] },
]

// What is asked of a side beyond its length and kind.
export const SIDE = [
  { p: 'boundary_m', ask: 'To the boundary', u: 'm' },
  { p: 'overhang_mm', ask: 'Overhang, wall face to fascia', u: 'mm', of: ['eaves', 'verge'] },
  { p: 'fascia_depth_mm', ask: 'Fascia, depth', u: 'mm', of: ['eaves', 'verge'] },
  { p: 'fascia_thickness_mm', ask: 'Fascia, thickness', u: 'mm', of: ['eaves', 'verge'] },
  { p: 'wall_height_m', ask: 'Wall above the roof, height', u: 'm', of: ['wall'] },
  { p: 'wall_of', ask: 'What is the wall of?', pick: [['brick', 'brick'], ['render', 'render'], ['cladding', 'cladding']], of: ['wall'] },
  { p: 'parapet_height_mm', ask: 'Parapet above the old felt', u: 'mm', of: ['parapet'] },
]

// What can be placed on the plan: its table, what it is, and what is asked of it.
const ALONG = { p: 'along_m', ask: 'Along the side, from its first corner', u: 'm' }
const IN = { p: 'in_m', ask: 'Square in from the side', u: 'm' }
const ABOVE = { p: 'above_covering_mm', ask: 'Up from the old felt', u: 'mm' }
const WIDE = { p: 'width_m', ask: 'Width', u: 'm' }
export const THINGS = [
  { name: 'window', table: 'windows', beside: true, has: {}, asks: [
    { p: 'sill_above_covering_mm', ask: 'From the old felt up to the sill', u: 'mm' },
    { p: 'sash_above_covering_mm', ask: 'From the old felt up to the sash', u: 'mm' }, ALONG, WIDE,
    { p: 'hinge', ask: 'Where is it hinged, seen from the roof?', draw: HINGE, pick: [['top', 'top'], ['left', 'left'], ['right', 'right'], ['bottom', 'bottom'], ['sliding', 'slides'], ['fixed', 'fixed']] },
    { p: 'opens', ask: 'Which way does it open?', pick: [['outwards', 'over the roof'], ['inwards', 'inwards'], ['no', 'not at all']] },
    { p: 'room', ask: 'Which room?', u: 'words' },
    { p: 'only_escape', ask: 'The only way out in a fire?', pick: YES }, { p: 'only_airing', ask: 'The only window of the room?', pick: YES }] },
  { name: 'door', table: 'heights', beside: true, has: { kind: 'threshold' }, asks: [ABOVE, ALONG, WIDE] },
  { name: 'height', table: 'heights', beside: true, has: {}, asks: [
    { p: 'kind', ask: 'What is it?', pick: [['sill', 'sill'], ['dpc', 'damp course'], ['cavity_tray', 'cavity tray'], ['flashing', 'flashing'], ['weep', 'weep hole'], ['air_brick', 'air brick'], ['flue', 'flue'], ['cable', 'cable']] }, ABOVE, ALONG] },
  { name: 'rooflight', table: 'openings', has: { kind: 'rooflight' }, asks: [ALONG, IN, { p: 'length_m', ask: 'Size along the side', u: 'm' }, { p: 'width_m', ask: 'Size square to the side', u: 'm' }, { p: 'kerb_height_mm', ask: 'Kerb above the deck', u: 'mm' }, { p: 'stands_on', ask: 'New kerb stands on', pick: [['deck', 'the deck'], ['boards', 'the boards']] }] },
  { name: 'pipe', table: 'openings', has: { kind: 'pipe' }, asks: [ALONG, IN, { p: 'diameter_mm', ask: 'Diameter', u: 'mm' }] },
  { name: 'outlet', table: 'openings', has: { kind: 'outlet' }, asks: [ALONG, IN, { p: 'diameter_mm', ask: 'Diameter', u: 'mm' }] },
  { name: 'flue', table: 'openings', has: { kind: 'flue' }, asks: [ALONG, IN, { p: 'diameter_mm', ask: 'Diameter', u: 'mm' }] },
  { name: 'level', table: 'levels', has: {}, asks: [ALONG, IN, { p: 'below_line_mm', ask: 'Staff, down from the level line', u: 'mm' }] },
]
