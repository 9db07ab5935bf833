/**
 * The shapes that cross to the page, as types: the inspection file of version 1 and what is handed over to be shown.
 * Written by `cargo xtask shapes` from the record crate; not here: any rule on the values, which only that crate knows.
 */

/** One camera taken through the check. */
export interface Inspection {
  /** Always `lampblack-inspection`. */
  format: string;
  /** Always 1 in this shape. */
  version: number;
  /** UUID version 7, as text. */
  id: string;
  /** Counts the changes, from 1. */
  revision: number;
  /** When it was begun. */
  created: string;
  /** When it was last changed. */
  updated: string;
  /** Program and version that wrote it. */
  program: string;
  /** Who the camera is. */
  camera: Camera;
  /** The lens on it. */
  lens: Lens;
  /** The cells it wants and has. */
  battery: Battery;
  /** The film in hand. */
  film: Film;
  /** What was looked at; a point without an entry is not checked. */
  findings: Finding[];
  /** The meter's readings and the consistency check. */
  meter: Meter;
  /** The shutter's takes. */
  shutter: Shutter;
  /** The openings at the marked f-numbers. */
  aperture: Aperture;
  /** How much light the lens scatters. */
  lens_measurements: LensMeasurements;
  /** What was found at the seals, by finger and by lamp. */
  light_tight: LightTight;
  /** The test roll, as far as it is. */
  test_roll: TestRoll;
  /** What mending would cost and what the camera is worth, if entered. */
  costs: Costs;
  /** Free text. */
  notes: string;
  /** Texts for the listing that the person changed. */
  texts: EditedText[];
  /** The pictures; their data only where asked for. */
  photos: Photo[];
  /** Keys that this version does not know, kept as they came. */
  foreign: Foreign[];
  /** Everything that was worked out. */
  result: Worked | null;
}

/** Who the camera is and what its dials carry. */
export interface Camera {
  /** Key of the kind, see `inspection::camera::Kind`; the only thing that must be entered. */
  kind: string;
  /** Maker as engraved. */
  maker: string;
  /** Model as engraved. */
  model: string;
  /** Serial number as engraved. */
  serial: string;
  /** `modern`, `old`, `stepless` or empty. */
  time_series: string;
  /** The marked times, in dial order, slow to fast: `"1"`, `"1/125"`. */
  times: string[];
  /** Lowest film speed on the dial, as marked. */
  film_speed_lowest: string;
  /** Highest film speed on the dial, as marked. */
  film_speed_highest: string;
  /** What the meter shows: key of `inspection::camera::MeterShows`, or empty. */
  meter_shows: string;
  /** How finely its scale can be read between marks: `whole`, `half` or `third`, or empty. */
  meter_between: string;
  /** `true` where the camera sets the f-number itself. */
  automatic_aperture: boolean;
}

/** The lens and the marks of its aperture ring. */
export interface Lens {
  /** Name as engraved. */
  name: string;
  /** Serial number as engraved. */
  serial: string;
  /** The marked f-numbers, wide to narrow: `"2.8"`. */
  f_numbers: string[];
}

/** The cells the camera wants and has. */
export interface Battery {
  /** As the camera or its manual says. */
  wanted: string;
  /** What is in it now. */
  fitted: string;
  /** Voltage under load as typed. */
  voltage: string;
  /** The same in volts. */
  voltage_v: number | null;
}

/** One point looked at. */
export interface Finding {
  /** Key of the point in `inspection::catalogue`. */
  point: string;
  /** `sound`, `worn`, `faulty`, `failed`, `not_fitted` or `not_checked`. */
  condition: string;
  /** The person's own words. */
  note: string;
  /** Ids of pictures. */
  photos: string[];
  /** When it was looked at. */
  at: string;
}

/** The meter check. */
export interface Meter {
  /** Series of levels, each against one reference; the last one is judged. */
  runs: Run[];
  /** Equivalent settings in one steady light, in the order they were taken. */
  consistency: Equivalent[];
}

/** A series of levels against one reference. */
export interface Run {
  /** When it was begun. */
  started: string;
  /** What it was held against first. */
  reference: Reference;
  /** What other levels were held against. */
  more_references: Reference[];
  /** Half-width of the tolerance in stops. */
  tolerance_stops: number;
  /** Speed of the film in hand, as marked; the dial is set to it. */
  film_speed: string;
  /** The levels, in the order they were taken. */
  levels: Level[];
}

/** A reference and its two doubts. */
export interface Reference {
  /** Key of the kind in `inspection::reference`. */
  kind: string;
  /** Standard uncertainty that is new at every level, in stops. */
  each_doubt_stops: number;
  /** Standard uncertainty that all levels of the run share, in stops. */
  shared_doubt_stops: number;
  /** For a lux reading: what the camera's meter looks at, `incident` or `card_18`; else empty. */
  surface: string;
  /** The person's own words: which instrument, when it was checked. */
  note: string;
}

/** One steady amount of light. */
export interface Level {
  /** When it was taken. */
  at: string;
  /** What the light is. */
  reference: ReferenceValue;
  /** What the camera's meter said, once or more. */
  readings: Reading[];
}

/** What the reference said at one level; which fields are used depends on `way`. */
export interface ReferenceValue {
  /** `setting`, `ev`, `illuminance`, `luminance` or `sky`. */
  way: string;
  /** Which reference: 0 for the run's first, n for the n-th of `more_references`. */
  source: number;
  /** Standard uncertainty of this light alone in stops, where it was worked out with one; it stands for the reference's own. */
  own_doubt_stops: number | null;
  /** For `setting`: time, f-number and film speed that the reference says. */
  setting: Setting | null;
  /** For `ev` (EV at ISO 100), `illuminance` (lux) and `luminance` (cd/m²): the number as typed. */
  typed: string;
  /** For `sky`: key in `photometry::SKY_WORDS`. */
  sky: string;
  /** Illuminance in lux, where that was typed. */
  illuminance_lux: number | null;
  /** Luminance in cd/m², where that was typed. */
  luminance_cd_m2: number | null;
  /** What it comes to, EV at ISO 100. */
  ev100: number | null;
}

/** What the camera's meter said once. */
export interface Reading {
  /** How the camera says it: a key of `inspection::camera::MeterShows`. */
  way: string;
  /** Time, f-number and film speed that the camera says or that it agrees with. */
  setting: Setting | null;
  /** For `lamps`: the other of the two settings between which it flips. */
  other: Setting | null;
  /** For `ev`: the number as typed, at the film speed of the run's dial. */
  typed: string;
  /** How finely it could be read: `whole`, `half`, `third` or `sixth`; for `ev` the last digit, `0.1` or `1`. */
  resolution: string;
  /** Resolution in stops. */
  step_stops: number | null;
  /** What it comes to, EV at ISO 100. */
  ev100: number | null;
}

/** Time, f-number and film speed as marked, `"5.6+1/3"` being a third of the way to the next mark, beside their exact values. */
export interface Setting {
  /** As on the aperture ring. */
  f_number: string;
  /** As on the shutter dial. */
  time: string;
  /** As on the film-speed dial. */
  film_speed: string;
  /** Exact f-number. */
  f_number_exact: number | null;
  /** Exact time in seconds. */
  time_s: number | null;
  /** Exact film speed, ISO arithmetic. */
  film_speed_exact: number | null;
}

/** One of several settings that the camera takes for equal in one steady light. */
export interface Equivalent {
  /** When it was taken. */
  at: string;
  /** The setting. */
  setting: Setting;
  /** How finely it could be set or read: `whole`, `half`, `third` or `sixth`. */
  resolution: string;
}

/** What mending would cost and what the camera is worth, as the person entered it. */
export interface Costs {
  /** Value in sound condition, as typed. */
  value: string;
  /** Cost of mending, as typed. */
  mending: string;
  /** Currency, free text. */
  currency: string;
  /** The person's own decision that it is for parts. */
  for_parts: boolean;
}

/** A picture of a point. */
export interface Photo {
  /** UUID, as text. */
  id: string;
  /** When it was added. */
  taken: string;
  /** `image/jpeg`. */
  media_type: string;
  /** Width in pixels. */
  width_px: number;
  /** Height in pixels. */
  height_px: number;
  /** Size of its file. */
  size_bytes: number;
  /** `true` where the person wants it on the sheet. */
  on_sheet: boolean;
  /** The file in base64, where pictures were asked for. */
  data: string | null;
}

/** A key that this version does not know, kept as it came. */
export interface Foreign {
  /** Where it stood, as `camera.colour` or `findings.3.colour`. */
  path: string;
  /** Its value as JSON text. */
  json: string;
}

/** A number with its doubt. */
export interface Estimate {
  /** Best estimate. */
  value: number;
  /** Standard uncertainty. */
  standard_uncertainty: number;
  /** Degrees of freedom; `null` where nothing limits them. */
  degrees_of_freedom: number | null;
}

/** Everything that was worked out, so that the file speaks for itself; on reading it is worked out again. */
export interface Worked {
  /** Program and version that worked it out. */
  program: string;
  /** First 16 hexadecimal digits of the SHA-256 of what was entered and caught, as printed on the sheet. */
  fingerprint: string;
  /** Key of the outcome: `ready`, `ready_with_limits`, `wants_service`, `for_parts`, `not_yet_known`. */
  outcome: string;
  /** The outcome in the trade's words: `wants service`. */
  outcome_words: string;
  /** One sentence: why this word. */
  outcome_sentence: string;
  /** `12 of 47 points looked at`. */
  progress_words: string;
  /** Why this outcome, each pointing at its evidence. */
  reasons: Reason[];
  /** What can be avoided or allowed for. */
  limits: Reason[];
  /** What was seen and changes nothing. */
  remarks: Reason[];
  /** What was not looked at, what matters first, then the cheapest. */
  unchecked: Unchecked[];
  /** The quickest thing left that could change the outcome; `null` where nothing left could. */
  next: Unchecked | null;
  /** What would settle the outcome and how long it takes, or empty. */
  settle: string;
  /** The sum of value and cost of mending, where both were entered. */
  costs_sentence: string;
  /** The films that `film_error` is held against. */
  films: FilmLatitude[];
  /** What film gets: set by hand and in metered use, marked time by marked time. */
  film_error: FilmError[];
  /** The same in sentences, film by film. */
  film_sentences: FilmSentence[];
  /** What has to be known about it. */
  film_notices: string[];
  /** What to do, one for each thing that is off. */
  remedies: Reason[];
  /** Cautions for what was found or is about to be done. */
  cautions: Reason[];
  /** `true` where the costs entered exceed the value entered and *for parts* may be chosen. */
  for_parts_offered: boolean;
  /** The judged meter run. */
  meter: MeterResult | null;
  /** The shutter, judged. */
  shutter: ShutterResult | null;
  /** The aperture, judged. */
  aperture: ApertureResult | null;
  /** The lens's measurements, compared. */
  lens_measurements: LensComparison | null;
  /** The careful look at the seals. */
  light_tight: LightTightResult | null;
  /** The test roll; `null` where none was begun. */
  test_roll: TestRollResult | null;
  /** The consistency check. */
  consistency: ConsistencyResult | null;
  /** The texts for the listing and the service bench. */
  wording: Wording;
}

/** A sentence and what it points at. */
export interface Reason {
  /** The sentence. */
  text: string;
  /** `point`, `meter`, `shutter`, `aperture`, `film`, `glare`, `consistency`, `test_roll` or `costs`. */
  about: string;
  /** Key of the point where `about` is `point`, else empty. */
  point: string;
  /** Key of the area the evidence is in, or empty. */
  area: string;
}

/** A point or measurement that was not checked. */
export interface Unchecked {
  /** What to look at, in a few words. */
  text: string;
  /** `point`, `meter`, `shutter` or `test_roll`. */
  about: string;
  /** Key of the point, or empty. */
  point: string;
  /** Key of the area. */
  area: string;
  /** `true` where it can spoil film or exposure. */
  matters: boolean;
  /** What it takes, in seconds. */
  seconds: number;
}

/** The judged meter run. */
export interface MeterResult {
  /** Meter error in the middle of the range, + reads high. */
  offset_stops: Estimate;
  /** Change of the meter error with the light, stops per stop; `null` where the levels do not carry one. */
  slope_stops_per_stop: Estimate | null;
  /** `true` where the slope is beyond its doubt and part of the judgement. */
  slope_reported: boolean;
  /** Where a fall-off at the low end begins, EV at ISO 100; `null` where there is none. */
  fall_off_below_ev100: number | null;
  /** Scatter against the stated doubt (Birge ratio); 0 where it cannot be told. */
  birge_ratio: number;
  /** Half-width of the tolerance in stops. */
  tolerance_stops: number;
  /** Level by level, in the order they were taken. */
  levels: LevelResult[];
  /** Probability that the worst place of the range is within the tolerance. */
  conformity: number;
  /** `within`, `outside` or `cannot_tell`. */
  call: string;
  /** The call as said: `cannot tell`. */
  call_words: string;
  /** `0.7 stop over`. */
  headline: string;
  /** `±0.1 in the middle of the range`. */
  headline_doubt: string;
  /** `±1/2 stop · 1 % likely to be within`. */
  call_reason: string;
  /** One sentence on how the error runs over the range. */
  pattern: string;
  /** What would settle it, or empty. */
  settle: string;
  /** What to set the dial to, or `null`. */
  remedy: Remedy | null;
  /** Why no dial setting is offered, or empty. */
  no_remedy: string;
  /** Usual causes of such a pattern, worded as such. */
  causes: string[];
  /** What a person should know before trusting it. */
  notices: string[];
}

/** One level of the judged run. */
export interface LevelResult {
  /** Light, EV at ISO 100. */
  reference_ev100: number;
  /** Meter error as read, in stops. */
  error_stops: number;
  /** Standard uncertainty of that one error, in stops. */
  error_standard_uncertainty_stops: number;
  /** Meter error by the fit, in stops. */
  fitted_stops: number;
  /** Standard uncertainty of the fitted error, in stops. */
  standard_uncertainty_stops: number;
  /** Probability that the fitted error is within the tolerance. */
  conformity: number;
  /** `EV 6.0`. */
  light_words: string;
  /** `1/8 · f/2.8`, or `twice: …`. */
  reading_words: string;
  /** `0.6 over`. */
  error_words: string;
  /** `±0.2`. */
  doubt_words: string;
}

/** A dial setting that takes the offset out. */
export interface Remedy {
  /** Film-speed mark to set. */
  dial: string;
  /** What is left of the offset, in stops of meter error. */
  residual_stops: number;
  /** What is left at each level, in the order of the levels, in stops of meter error. */
  left_stops: number[];
  /** `Set the dial to 640 for ISO 400 film:` */
  text: string;
  /** `what is left is within 0.15 stop everywhere.` */
  left_text: string;
}

/** The consistency check. */
export interface ConsistencyResult {
  /** One sentence: what it says. */
  sentence: string;
  /** Effects that were told apart, largest first. */
  effects: Effect[];
  /** The light's own drift over the whole check in stops, where it was measured. */
  drift_stops: Estimate | null;
  /** What a person should know before trusting it. */
  notices: string[];
}

/** By how much one mark of one dial is off. */
export interface Effect {
  /** `time`, `f_number` or `film_speed`. */
  dial: string;
  /** The mark as said: `1/60`, `f/5.6`, `ISO 400`. */
  mark: string;
  /** How far it is off, in stops. */
  effect_stops: Estimate;
  /** `true` where it is beyond its doubt. */
  beyond_doubt: boolean;
  /** A sentence. */
  words: string;
}

/** Many inspections in one file. */
export interface Bench {
  /** Always `lampblack-bench`. */
  format: string;
  /** Always 1 in this shape. */
  version: number;
  /** When it was written. */
  created: string;
  /** Program and version that wrote it. */
  program: string;
  /** The inspections. */
  inspections: Inspection[];
}

/** The aperture check. */
export interface Aperture {
  /** Key of the tolerance, see `inspection::tolerance::OF_F_NUMBERS`, or `own`; empty for the usual one. */
  tolerance: string;
  /** For `own`: its half-width as typed. */
  own_tolerance: string;
  /** The same in stops. */
  own_tolerance_stops: number | null;
  /** Number of blades as typed, where the person counted them. */
  blades: string;
  /** The same as a number. */
  blade_count: number | null;
  /** The photos, in the order they are shown. */
  openings: OpeningShot[];
}

/** One photo of an opening; lengths are pixels of the picture as it was measured, averaged down. */
export interface OpeningShot {
  /** Name of the picture's file. */
  source: string;
  /** When it was taken in milliseconds since 1970, or the file's own time; only its order counts. */
  taken_ms: number;
  /** The marked f-number it counts for, or empty. */
  f_number: string;
  /** From which side the ring came: `open`, `closed`, or empty. */
  side: string;
  /** `true` where the person left it out. */
  dropped: boolean;
  /** Width of the measured picture. */
  width_px: number;
  /** Height of the measured picture. */
  height_px: number;
  /** Area of the opening; `null` where none was found. */
  area_px: number | null;
  /** Length of its edge. */
  perimeter_px: number;
  /** How far the edge may be shifted, one standard uncertainty. */
  edge_doubt_px: number;
  /** Relative standard uncertainty of the area from all else. */
  noise: number;
  /** Middle of the opening, from the left and from the top. */
  centre_px: number[];
  /** Distance of the edge from the middle along rays, from the right on and clockwise as seen. */
  outline_px: number[];
  /** What has to be known about it. */
  notices: TimingNotice[];
  /** Id of the kept picture, or empty. */
  photo: string;
}

/** The aperture, judged. */
export interface ApertureResult {
  /** One word for all of it: `within`, `outside` or `cannot_tell`. */
  call: string;
  /** The call as said. */
  call_words: string;
  /** `5 of 6 stopped-down marks within`. */
  headline: string;
  /** One sentence on how the error runs over the marks. */
  pattern: string;
  /** The tolerance in words with where it comes from. */
  tolerance_words: string;
  /** Mark by mark, from the widest. */
  stops: StopResult[];
  /** Marked f-numbers of the lens without a photo, as said. */
  missing: string[];
  /** Neighbours that give the same opening, a sentence each. */
  same: string[];
  /** Number of blades, where it is known. */
  blade_count: number | null;
  /** Blades that sit off. */
  odd_blades: OddBladeResult[];
  /** Standard deviation of one setting in stops, where marks were taken more than once. */
  repeatability_stops: number | null;
  /** How much wider the openings are from the open side in stops, where both sides were taken. */
  hysteresis_stops: number | null;
  /** How the iris repeats and whether the side matters, a sentence each. */
  settling: string[];
  /** What would settle what is open, or empty. */
  settle: string;
  /** What a person should know before trusting it. */
  notices: string[];
}

/** One marked f-number. */
export interface StopResult {
  /** The mark: `5.6`. */
  f_number: string;
  /** As shown: `f/5.6`. */
  label: string;
  /** `true` for the widest mark, which shows a fixed ring. */
  widest: boolean;
  /** How many photos count. */
  shots: number;
  /** Aperture error in stops, + is too wide; `null` where there is no opening. */
  error_stops: Estimate | null;
  /** Half-width of the tolerance in stops. */
  tolerance_stops: number;
  /** Probability that the true error is within the tolerance. */
  conformity: number;
  /** `within`, `outside` or `cannot_tell`. */
  call: string;
  /** The call as said. */
  call_words: string;
  /** Root mean square of the outline's harmonics 2 to 4, as a share of its radius; `null` where there is no opening. */
  roundness: number | null;
  /** `0.3 under`. */
  error_words: string;
  /** `±0.03`. */
  doubt_words: string;
  /** `one photo`. */
  how_words: string;
  /** What has to be known about it, a sentence each. */
  notices: string[];
}

/** A blade that sits off. */
export interface OddBladeResult {
  /** Where its middle lies in the picture, from the right on and clockwise, in degrees. */
  angle_deg: number;
  /** How far, as a share of the blades' distance: + hangs back, − sticks in. */
  deviation: number;
  /** A sentence. */
  words: string;
}

/** The film that the camera is to be used with, as far as it was said. */
export interface Film {
  /** `reversal`, `colour_negative`, `black_and_white_negative` or empty. */
  kind: string;
  /** Own latitude under in stops, as typed; with `over` it stands for the usual one. */
  under: string;
  /** Own latitude over in stops, as typed. */
  over: string;
  /** The same in stops. */
  under_stops: number | null;
  /** The same in stops. */
  over_stops: number | null;
}

/** A film and what it forgives. */
export interface FilmLatitude {
  /** `reversal`, `colour_negative`, `black_and_white_negative` or `own`. */
  film: string;
  /** As said. */
  words: string;
  /** Under-exposure that it forgives, in stops. */
  under_stops: number;
  /** Over-exposure that it forgives, in stops. */
  over_stops: number;
  /** `1/2 under to 1/2 over`. */
  latitude_words: string;
  /** Where the latitude comes from. */
  source: string;
  /** `true` for the film in hand. */
  in_hand: boolean;
}

/** What film gets at one marked time in one usage. */
export interface FilmError {
  /** `hand_set` or `metered`. */
  usage: string;
  /** The marked time, or empty where the row stands for all of metered use. */
  time: string;
  /** As shown: `1/125`. */
  label: string;
  /** Film error of its worst f-number or light in stops, + is over-exposed; `null` where it is not told. */
  error_stops: number | null;
  /** Its standard uncertainty in stops. */
  standard_uncertainty_stops: number | null;
  /** `0.4 over`, or from where to where it goes. */
  words: string;
  /** `±0.2`. */
  doubt_words: string;
  /** Why it is not told, or empty. */
  why_not: string;
  /** F-number by f-number where openings were measured; else the ends, or the one figure that stands for all. */
  cells: FilmCell[];
  /** What each film says, in the order of `films`. */
  verdicts: FilmVerdict[];
}

/** One f-number or light of a row. */
export interface FilmCell {
  /** The marked f-number, or empty where it does not matter. */
  f_number: string;
  /** `true` where the opening at it was measured; else it is taken as marked. */
  opening_measured: boolean;
  /** The light in metered use, EV at ISO 100. */
  reference_ev100: number | null;
  /** Film error. */
  error_stops: Estimate;
  /** `f/8`, `EV 12.0`, or both. */
  label: string;
  /** `0.4 over`. */
  words: string;
  /** `±0.2`. */
  doubt_words: string;
}

/** What a film says to a row. */
export interface FilmVerdict {
  /** Key of the film. */
  film: string;
  /** `within`, `outside` or `cannot_tell`. */
  call: string;
  /** Probability that the worst cell lies within the latitude. */
  conformity: number;
  /** The least compensation that makes it safe, in stops, + gives more; `null` where none is needed or none helps. */
  compensation_stops: number | null;
  /** `safe`, `give 2/3 stop less`, `leave it out`, `cannot tell`. */
  words: string;
}

/** Which times are safe for a film, in a sentence. */
export interface FilmSentence {
  /** `hand_set` or `metered`. */
  usage: string;
  /** Key of the film. */
  film: string;
  /** The sentence. */
  text: string;
}

/** What was measured of the lens's glass. */
export interface LensMeasurements {
  /** Each measurement of scattered light, in the order they were made. */
  glare: GlareMeasured[];
}

/** One measurement of scattered light. */
export interface GlareMeasured {
  /** When it was made. */
  at: string;
  /** What it is of: `before cleaning`, `after cleaning`, or the person's own words. */
  label: string;
  /** Light of the black hole over that of the field, without what phone and box scatter. */
  glare_index: number;
  /** Its standard uncertainty. */
  standard_uncertainty: number;
  /** `two-exposure` or `single`. */
  method: string;
  /** What has to be known about it. */
  notices: TimingNotice[];
}

/** The measurements, compared. */
export interface LensComparison {
  /** The last against the first, a sentence. */
  sentence: string;
  /** `2.1 % ± 0.4 %` for each measurement. */
  figures: string[];
  /** What a person should know before trusting it. */
  notices: string[];
}

/** The careful look at the seals, and the lamp inside. */
export interface LightTight {
  /** Side of the hinge seen from behind: `right`, `left`, `top`, `bottom`, or empty for the usual side. */
  hinge: string;
  /** What was found, one entry for each place that was looked at. */
  places: PlaceLook[];
  /** The conditions that the look last gave to points of the catalogue. */
  derived: Derived[];
}

/** What was found at one place of the open back. */
export interface PlaceLook {
  /** Key of the place in `inspection::drawing::back`. */
  place: string;
  /** `springy`, `flat`, `sticky`, `crumbling`, `gone`, `not_fitted`, or empty. */
  feel: string;
  /** What is left on the edge: `none`, `dust`, `smear`, `strings`, or empty. */
  residue: string;
  /** With a lamp behind it: `dark`, `light` (light comes out here), or empty. */
  lamp: string;
  /** Length of the seal as typed. */
  length: string;
  /** The same in millimetres. */
  length_mm: number | null;
  /** Thickness of the seal as typed. */
  thickness: string;
  /** The same in millimetres. */
  thickness_mm: number | null;
}

/** A condition that follows from the look. */
export interface Derived {
  /** Key of the point. */
  point: string;
  /** Key of the condition. */
  condition: string;
}

/** What the look comes to. */
export interface LightTightResult {
  /** Place by place: only those that were looked at. */
  places: PlaceResult[];
  /** What to fit, a line each. */
  replace: string[];
  /** Where the round says otherwise than the look, and what to know, a sentence each. */
  notices: string[];
}

/** What the look at one place comes to. */
export interface PlaceResult {
  /** Key of the place. */
  place: string;
  /** Key of its condition. */
  condition: string;
  /** The risk in a sentence. */
  risk: string;
}

/** The shutter check. */
export interface Shutter {
  /** Key of the shutter's build, see `inspection::shutter::Build`: `cloth`, `metal`, `leaf`, or empty. */
  build: string;
  /** Key of the tolerance, see `inspection::tolerance::OF_TIMES`, or `own`; empty for the usual one. */
  tolerance: string;
  /** For `own`: its half-width as typed. */
  own_tolerance: string;
  /** The same in stops. */
  own_tolerance_stops: number | null;
  /** The takes, in the order they were made. */
  takes: Take[];
}

/** One recording or clip with what was found in it. */
export interface Take {
  /** When it was made. */
  started: string;
  /** `sound`, `light` or `video`. */
  signal: string;
  /** Where it came from: `microphone`, or the name of a file. */
  source: string;
  /** How it was caught, a line each: sampling rate, processing, frame rates. */
  capture: string[];
  /** Sampling rate of a recording in hertz. */
  sample_rate_hz: number | null;
  /** Interval between the frames of a clip in seconds. */
  frame_interval_s: number | null;
  /** Whether a mirror moved with the shots. */
  mirror: boolean;
  /** The marked times in the order they were fired, one for each shot asked for. */
  asked: string[];
  /** For a series of sounds: the common offset in seconds that was added to every interval. */
  offset_s: number | null;
  /** For a light trace: time constants of the input's coupling in seconds. */
  coupling_s: number[];
  /** The shots, in the order of time. */
  shots: Shot[];
  /** What has to be known about the take. */
  notices: TimingNotice[];
  /** Key of the recording where the person keeps it on the phone, or empty. */
  kept: string;
}

/** One release of the shutter. */
export interface Shot {
  /** Where it begins in the take, in seconds. */
  start_s: number;
  /** The marked time it counts for, or empty. */
  marked: string;
  /** `true` where the person left it out. */
  dropped: boolean;
  /** `true` where the person said which mark it belongs to. */
  confirmed: boolean;
  /** Effective time in the middle of the frame in seconds; `null` where it cannot be told. */
  time_s: number | null;
  /** Its standard uncertainty in seconds. */
  standard_uncertainty_s: number | null;
  /** The part of that which all shots of the take share, in seconds. */
  shared_s: number;
  /** `measured`, `probable`, `indicative` or `cannot_tell`. */
  state: string;
  /** Times that would also fit, in seconds. */
  candidates_s: number[];
  /** Times at several places of the frame. */
  places: ShotPlace[];
  /** How long the first and the second curtain travelled, in seconds, where that was seen or heard. */
  travel_s: number[];
  /** From a series of sounds: opening to closing in seconds, without the common offset. */
  interval_s: number | null;
  /** Moments of impacts or edges in the take, in seconds. */
  events_s: number[];
  /** Exposure that a bounce adds, in seconds at the open level; no part of the time. */
  bounce_s: number | null;
  /** What has to be known about the shot. */
  notices: TimingNotice[];
}

/** The time at one place of the frame. */
export interface ShotPlace {
  /** `left`, `middle`, `right`; `first`, `second`. */
  position: string;
  /** Time in seconds. */
  time_s: number;
  /** Its standard uncertainty in seconds. */
  standard_uncertainty_s: number;
}

/** A code for programs and a sentence for people. */
export interface TimingNotice {
  /** `no-open-level`. */
  code: string;
  /** A sentence. */
  text: string;
}

/** The shutter, judged. */
export interface ShutterResult {
  /** One word for all of it: `within`, `outside` or `cannot_tell`. */
  call: string;
  /** The call as said. */
  call_words: string;
  /** `9 of 11 marked times within`. */
  headline: string;
  /** One sentence on how the error runs over the times. */
  pattern: string;
  /** The tolerance in words with where it comes from. */
  tolerance_words: string;
  /** Spread between shots of one marked time in stops, from all marks together; `null` where every mark has one shot. */
  spread_stops: number | null;
  /** Time by time, in dial order. */
  times: TimeResult[];
  /** Marked times of the camera without a time, as said. */
  missing: string[];
  /** What would settle what is open, or empty. */
  settle: string;
  /** Bulb and self-timer, a sentence each. */
  others: string[];
  /** Usual causes of such a pattern, worded as such. */
  causes: string[];
  /** What a person should know before trusting it. */
  notices: string[];
}

/** One marked time. */
export interface TimeResult {
  /** The mark: `1/125`. */
  marked: string;
  /** As shown. */
  label: string;
  /** Exact value of the mark in seconds. */
  exact_s: number;
  /** `sound`, `light` or `video`: the way that counts. */
  signal: string;
  /** How far it may be trusted: `measured`, `probable`, `indicative`, `cannot_tell`. */
  state: string;
  /** The state as said. */
  state_words: string;
  /** How many shots count. */
  shots: number;
  /** Mean time in seconds, or `null`. */
  time_s: Estimate | null;
  /** Spread between its shots in stops (experimental standard deviation), with two shots or more. */
  spread_stops: number | null;
  /** Shutter error in stops, + is open too long; `null` where there is no time. */
  error_stops: Estimate | null;
  /** What its doubt is made of, in stops, each named. */
  doubts: Doubt[];
  /** Half-width of the tolerance in stops. */
  tolerance_stops: number;
  /** Probability that the true error is within the tolerance. */
  conformity: number;
  /** `within`, `outside` or `cannot_tell`. */
  call: string;
  /** The call as said. */
  call_words: string;
  /** How much longer one end of the gate is exposed than the other, in stops; `null` where unknown. */
  taper_stops: Estimate | null;
  /** `1/310 s`. */
  time_words: string;
  /** `0.8 under`. */
  error_words: string;
  /** `±0.2`. */
  doubt_words: string;
  /** `3 shots by light, measured`. */
  how_words: string;
  /** What has to be known about it, a sentence each. */
  notices: string[];
}

/** A part of a doubt. */
export interface Doubt {
  /** What it is: `spread between shots`. */
  name: string;
  /** Standard uncertainty in stops. */
  standard_uncertainty_stops: number;
}

/** A test roll. */
export interface TestRoll {
  /** What was ticked off at the camera, in that order. */
  steps: RollStep[];
  /** When the last frame was exposed; empty before that. */
  exposed: string;
  /** Blank frames that were photographed. */
  frames: RollFrame[];
  /** Walls that were photographed. */
  walls: RollWall[];
}

/** A step that is done. */
export interface RollStep {
  /** Key of the step in `inspection::test_roll`. */
  step: string;
  /** When it was ticked off. */
  at: string;
}

/** A blank frame as a photo shows it. */
export interface RollFrame {
  /** When the photo was measured. */
  at: string;
  /** Which frame: `closed`, `lens-open` or `bulb`. */
  frame: string;
  /** Name of the picture's file. */
  source: string;
  /** How the strip lies: `picture-upright`, `as-in-camera`, `picture-mirrored`, `mirrored-upside-down` or `unknown`. */
  lies: string;
  /** Which film: `135`, or the height of the gate of roll film in millimetres, `56`. */
  film: string;
  /** `none`, `back`, `front`, `pinhole` or `cannot tell`. */
  group: string;
  /** Side of the gate on the photo: `top`, `bottom`, `left`, `right`, or empty. */
  side: string;
  /** The part that it would be if the strip lay as in the camera and the hinge were at the right, or empty. */
  part: string;
  /** How sure that is, 0 to 1. */
  confidence: number;
  /** The densest place above the film's base. */
  peak_density: number;
  /** Density from which something counts as light; 0 where the photo could not be measured. */
  threshold_density: number;
  /** Density above the base: rows of letters, one for each square millimetre, from 3 mm left of the gate and 1.5 mm above the film on; `0` to `9` and `a` to `z` in steps of 0.05, `.` where a hole is. */
  density_map: string[];
  /** What has to be known about it. */
  notices: TimingNotice[];
  /** Id of the kept picture, or empty. */
  photo: string;
}

/** An evenly lit wall as one to four photos show it. */
export interface RollWall {
  /** When it was worked out. */
  at: string;
  /** Names of the pictures' files: the wall, with one stop less, with one stop more, turned; empty where there was none. */
  sources: string[];
  /** The marked time, or empty. */
  time: string;
  /** Which way the curtains run on the picture: `horizontal` or `vertical`. */
  travel: string;
  /** From one end of the travel to the other in stops, + more at its end. */
  taper_stops: number;
  /** Its standard uncertainty in stops. */
  standard_uncertainty_stops: number;
  /** What of the single frame's taper is the wall in stops; `null` without a turned frame. */
  wall_stops: number | null;
  /** Half the height of ripples along the travel in stops. */
  band_stops: number;
  /** The deeper end against the line of the middle in stops. */
  end_drop_stops: number;
  /** Middle against the mean of the ends in stops. */
  bow_stops: number;
  /** The film's contrast that was used. */
  gamma: number;
  /** Places along the travel, from the middle, in lengths of the travel. */
  profile_position: number[];
  /** Exposure there against the mean in stops. */
  profile_stops: number[];
  /** What has to be known about it. */
  notices: TimingNotice[];
}

/** What a test roll comes to. */
export interface TestRollResult {
  /** `at_the_camera`, `waiting` or `read`. */
  state: string;
  /** `light on 1 of 3 frames`. */
  headline: string;
  /** The blank frames, in the order of `frames`. */
  frames: RollFrameResult[];
  /** The walls, in the order of `walls`. */
  walls: RollWallResult[];
  /** What was not tried. */
  missing: string[];
}

/** What a blank frame tells. */
export interface RollFrameResult {
  /** Which frame. */
  frame: string;
  /** The frame in a few words. */
  frame_words: string;
  /** `dark`, `light`, `likely`, `cannot_tell` or `unread`. */
  call: string;
  /** The call as said. */
  call_words: string;
  /** Side of the gate seen from behind, or empty. */
  side: string;
  /** Key of the place of the open back that it points at, or empty. */
  place: string;
  /** Key of the catalogue's point of that place, or empty. */
  point: string;
  /** How sure, 0 to 1. */
  confidence: number;
  /** What it tells. */
  sentence: string;
}

/** What a wall tells. */
export interface RollWallResult {
  /** `within`, `outside` or `cannot_tell`. */
  call: string;
  /** The call as said. */
  call_words: string;
  /** The marked time as said, or empty. */
  mark: string;
  /** `0.40 ± 0.10 stop from end to end`. */
  figure: string;
  /** What it tells. */
  sentence: string;
  /** What would settle it, or empty. */
  settle: string;
}

/** A text that the person changed. */
export interface EditedText {
  /** `line`, `paragraph`, `full` or `service`. */
  key: string;
  /** As the person wrote it. */
  text: string;
  /** The text it was made from: where that differs from the one of today, something was found or measured since. */
  made_from: string;
  /** When it was last changed. */
  at: string;
}

/** The texts as they were put together. */
export interface Wording {
  /** One line for the listing. */
  line: string;
  /** One paragraph. */
  paragraph: string;
  /** Everything, in paragraphs. */
  full: string;
  /** What to mend, for the service bench. */
  service: string;
  /** The sentences of the full text, each with its evidence. */
  said: Said[];
}

/** A sentence and what it rests on. */
export interface Said {
  /** The sentence. */
  text: string;
  /** What it rests on; empty for who the camera is. */
  evidence: Traced[];
}

/** What a sentence rests on. */
export interface Traced {
  /** `point`, `meter`, `shutter`, `aperture`, `film`, `glare`, `consistency` or `costs`. */
  about: string;
  /** Key of the point where `about` is `point`, else empty. */
  point: string;
  /** Key of its area, or empty. */
  area: string;
}

/** A drawing: marks in a box of `width` × `height` units, the same on the page, on the sheet and on paper. */
export interface Drawing {
  /** Width in drawing units. */
  width: number;
  /** Height in drawing units. */
  height: number;
  /** A short name for those who do not see it. */
  title: string;
  /** What it shows, in a sentence. */
  description: string;
  /** The marks, back to front. */
  marks: Mark[];
}

/** One mark of a drawing. */
export interface Mark {
  /** `line` (x, y to x2, y2), `rectangle` (corner x, y to x2, y2), `dot` (centre x, y, radius x2), `text` (x, y) or `path` (`points`). */
  shape: string;
  /** What it stands for, and so how it looks: `band`, `zero`, `rule`, `over`, `under`, `whisker`, `fit`, `doubt`, `label`, and those of the open back. */
  role: string;
  /** Units from the left. */
  x: number;
  /** Units from the top. */
  y: number;
  /** See `shape`. */
  x2: number;
  /** See `shape`. */
  y2: number;
  /** For `path`: x and y in turn. */
  points: number[];
  /** For `text`. */
  text: string;
  /** For `text`: `start`, `middle` or `end`. */
  anchor: string;
}

/** Everything that the pages of one inspection show besides the inspection itself. */
export interface View {
  /** `Halden 35 R · 41 207`, or the kind where no name was entered. */
  title: string;
  /** The kind in words. */
  kind_words: string;
  /** `12 of 47 points looked at`. */
  progress: string;
  /** The areas in order, with their points that this kind of camera has. */
  areas: AreaView[];
  /** The round, step by step in the usual order. */
  round: StepView[];
  /** The judged run's error over the light, or `null`. */
  meter_plot: Drawing | null;
  /** One bar about zero per level of the judged run. */
  meter_bars: Drawing[];
  /** The references of each run in words with their two doubts: `each reading ±0.2, all together ±0.2 stop`. */
  references: ReferenceView[][];
  /** The texts for the listing and the service bench, as they stand. */
  texts: TextView[];
  /** What film gets, usage by usage; the figures stand in the result. */
  film: FilmView[];
  /** The shutter. */
  shutter: ShutterView;
  /** The openings, and the light that the lens scatters. */
  aperture: ApertureView;
  /** The seals on the open back. */
  light_tight: LightTightView;
  /** The test roll. */
  test_roll: TestRollView;
  /** One bar per effect of the consistency check. */
  consistency_bars: Drawing[];
  /** `1/125 · f/8 · ISO 100` per entry of the consistency check. */
  consistency_entries: EquivalentView[];
}

/** A text that is handed on. */
export interface TextView {
  /** `line`, `paragraph`, `full` or `service`. */
  key: string;
  /** Its name. */
  name: string;
  /** What it is for. */
  purpose: string;
  /** As it stands: the person's own where there is one. */
  text: string;
  /** As it is put together today. */
  made: string;
  /** Whether the person changed it. */
  edited: boolean;
  /** Whether something was found or measured since. */
  outdated: boolean;
}

/** What film gets in one usage. */
export interface FilmView {
  /** `hand_set` or `metered`. */
  usage: string;
  /** `Set by hand`. */
  words: string;
  /** Film error over the marked times, or `null` where nothing is told. */
  plot: Drawing | null;
}

/** An area of the round. */
export interface AreaView {
  /** Key. */
  key: string;
  /** Name. */
  name: string;
  /** How many of its points were looked at. */
  checked: number;
  /** How many it has. */
  total: number;
  /** `3 of 8`. */
  progress: string;
  /** Points found faulty or failed. */
  bad: number;
  /** The points. */
  points: PointView[];
}

/** A point of the round with what was found. */
export interface PointView {
  /** Key. */
  key: string;
  /** Name in a few words. */
  name: string;
  /** The question as asked at the bench. */
  question: string;
  /** The condition's key, `not_checked` where there is no finding. */
  condition: string;
  /** The condition in words. */
  condition_words: string;
  /** The person's own words. */
  note: string;
  /** Ids of pictures. */
  photos: string[];
  /** The conditions to choose from, each with what it looks like. */
  choices: ChoiceView[];
  /** What it costs if it is bad: `spoils film`. */
  costs_words: string;
  /** The usual remedy. */
  remedy: string;
  /** The caution at this step, or empty. */
  caution: string;
  /** Where the line comes from: `common practice`, or a source. */
  source: string;
  /** Whether a picture helps. */
  picture_helps: boolean;
  /** Whether it can spoil film or exposure. */
  matters: boolean;
}

/** A condition to choose. */
export interface ChoiceView {
  /** Key. */
  key: string;
  /** Word. */
  words: string;
  /** What it looks like in one line. */
  looks: string;
}

/** A run's reference as said. */
export interface ReferenceView {
  /** `Another exposure meter`. */
  name: string;
  /** `each reading ±0.20, all together ±0.20 stop`. */
  doubts: string;
  /** Why those doubts. */
  why: string;
  /** What would make them smaller. */
  better: string;
  /** What has to be known about constants and cards, or empty. */
  constants: string;
}

/** An entry of the consistency check as said. */
export interface EquivalentView {
  /** `1/125 · f/8 · ISO 100`. */
  words: string;
  /** `EV 13.0`. */
  ev_words: string;
}

/** What one level would add, shown before it is kept. */
export interface LevelPreview {
  /** `EV 10.0`. */
  light_words: string;
  /** `0.4 stop over`. */
  error_words: string;
  /** `±0.3 stop`. */
  doubt_words: string;
  /** Its bar about zero. */
  bar: Drawing;
  /** What to mind, or empty. */
  notice: string;
}

/** Every list that the page offers to choose from; each exists once, in the crate that owns it. */
export interface Lists {
  /** Program and version. */
  program: string;
  /** Kinds of camera. */
  kinds: Choice[];
  /** Conditions. */
  conditions: Choice[];
  /** Outcomes. */
  outcomes: Choice[];
  /** Series of marked times: `modern`, `old`, `stepless`, each with its marks. */
  time_series: Series[];
  /** Presets of marked f-numbers, by the widest opening. */
  f_number_series: Series[];
  /** Every film-speed mark. */
  film_speeds: string[];
  /** What a meter can show. */
  meter_shows: Choice[];
  /** How finely a scale can be read. */
  resolutions: Choice[];
  /** Last digits that a meter showing an EV can have. */
  ev_digits: Choice[];
  /** Kinds of film, each with what it forgives. */
  films: Choice[];
  /** Kinds of reference. */
  references: ReferenceChoice[];
  /** Tolerances. */
  tolerances: ToleranceChoice[];
  /** Builds of a shutter. */
  shutter_builds: Choice[];
  /** Tolerances of marked times; `own` is the last. */
  shutter_tolerances: Choice[];
  /** Signals that a shutter can be measured by. */
  signals: Choice[];
  /** Lights in which a loaded camera lies. */
  lights: Choice[];
  /** Words for the sky. */
  skies: Choice[];
  /** Skies that light can be reckoned for. */
  model_skies: Choice[];
  /** Kinds of screen. */
  screens: Choice[];
  /** What the meter looks at when a lux reading is the reference. */
  surfaces: Choice[];
  /** The constants in use, their permitted ranges and reasons, a sentence each. */
  constants: string[];
  /** General cautions of the bench. */
  cautions: string[];
}

/** A key with its words. */
export interface Choice {
  /** Key. */
  key: string;
  /** Words. */
  words: string;
  /** A line of help, or empty. */
  help: string;
}

/** A series of marks. */
export interface Series {
  /** Key. */
  key: string;
  /** Words. */
  words: string;
  /** The marks that a camera of the series usually has. */
  marks: string[];
  /** All marks of the series that could be added. */
  more: string[];
}

/** A kind of reference with its default doubts. */
export interface ReferenceChoice {
  /** Key. */
  key: string;
  /** Words. */
  words: string;
  /** How to use it, in a line. */
  help: string;
  /** Standard uncertainty that is new at every level, in stops. */
  each_doubt_stops: number;
  /** Standard uncertainty that all levels share, in stops. */
  shared_doubt_stops: number;
  /** Why those. */
  why: string;
  /** What would make them smaller. */
  better: string;
  /** The ways a level can be entered, the usual one first: `setting`, `ev`, `illuminance`, `luminance`, `sky`. */
  ways: string[];
  /** What has to be known about constants and cards, or empty. */
  constants: string;
  /** Caution, or empty. */
  caution: string;
}

/** A tolerance to choose. */
export interface ToleranceChoice {
  /** Half-width in stops. */
  stops: number;
  /** `±1/2 stop`. */
  words: string;
  /** What it is for and where it comes from. */
  help: string;
}

/** A place on a dial, marked or between marks. */
export interface Place {
  /** As kept: `5.6+1/3`. */
  mark: string;
  /** As shown: `f/5.6 + ⅓`. */
  label: string;
}

/** An inspection that was accepted, and what its pages show. */
export interface Accepted {
  /** As it is to be kept. */
  inspection: Inspection;
  /** As it is to be shown. */
  view: View;
}

/** What a file held. */
export interface Taken {
  /** `inspection` or `bench`. */
  kind: string;
  /** The inspections in it. */
  inspections: Inspection[];
  /** What was noticed on reading, a sentence each. */
  findings: string[];
}

/** The sheet, block by block. */
export interface Sheet {
  /** Title of the document. */
  title: string;
  /** The blocks in order. */
  blocks: Block[];
  /** How much smaller its print has to be to stay on two pages: 0, 1 or 2. */
  density: number;
}

/** One block of the sheet; which fields are used depends on `kind`. */
export interface Block {
  /** `title`, `heading`, `outcome`, `paragraph`, `list`, `facts`, `table`, `drawing`, `picture`, `small`, `label`. */
  kind: string;
  /** The text of a title, heading, paragraph or small line; the outcome's word. */
  text: string;
  /** `outcome`: its key. `picture`: the id of the kept picture; its text says what it shows, and a drawing may lie over it. */
  key: string;
  /** `list`: items. `table`: column heads. `label`: its small print. */
  items: string[];
  /** `facts`: pairs of name and value. `table`: rows. */
  rows: string[][];
  /** `drawing`. */
  drawing: Drawing | null;
}

/** What a picture's file says before its pixels are looked at. */
export interface PictureAbout {
  /** Width as seen, 0 where the file does not say. */
  width_px: number;
  /** Height as seen, 0 where the file does not say. */
  height_px: number;
  /** When it was taken by the phone's own clock, in milliseconds; `null` where the file does not say. */
  taken_ms: number | null;
  /** Exposure value at ISO 100; `null` where the file does not say. */
  ev100: number | null;
  /** `1/60 s, f/1.8, ISO 100`, or empty. */
  exposure_words: string;
  /** How often it is averaged down before an opening is measured. */
  factor: number;
  /** Why it cannot be measured, or empty. */
  refusal: string;
}

/** An opening found in one photo. */
export interface FoundOpening {
  /** As it is kept; without an area where none was found. */
  opening: OpeningShot;
  /** Its outline over the picture. */
  outline: Drawing | null;
  /** What the set-up is like. */
  checks: SetupView[];
}

/** One thing of the set-up. */
export interface SetupView {
  /** Whether it is as it must be. */
  good: boolean;
  /** A sentence. */
  text: string;
}

/** The aperture as its pages show it. */
export interface ApertureView {
  /** The judged aperture's error over the marks, or `null`. */
  plot: Drawing | null;
  /** One bar about zero for each judged mark. */
  bars: Drawing[];
  /** The outline of each photo's opening, in the order of the photos; `null` where there is none. */
  outlines: (Drawing | null)[];
  /** What has to be known of each photo, in the order of the photos. */
  notices: string[][];
  /** The tolerances to choose from. */
  tolerances: Choice[];
  /** What the figure of scattered light means. */
  glare_meaning: string;
}

/** A round hole found in one photo, in pixels of the picture. */
export interface Hole {
  /** From the left. */
  x: number;
  /** From the top. */
  y: number;
  /** Its radius. */
  radius: number;
  /** Left edge of the part of the picture that is needed to measure it. */
  left: number;
  /** Its upper edge. */
  top: number;
  /** Its width. */
  width: number;
  /** Its height. */
  height: number;
  /** The circle over the picture. */
  outline: Drawing | null;
}

/** Light of a hole and its field in one photo. */
export interface GlareSample {
  /** Mean light of the hole. */
  hole: number;
  /** Mean light of the field. */
  field: number;
  /** How far the field's sectors lie apart, as a share of their mean. */
  field_spread: number;
  /** Light near the hole's rim over that of its middle. */
  slope: number;
  /** Share of burnt-out pixels of the field. */
  field_clipped: number;
  /** Share of crushed pixels of the hole. */
  hole_crushed: number;
  /** Exposure value at ISO 100 of the photo, where its file says it. */
  ev100: number | null;
  /** Name of the picture, for sentences. */
  name: string;
}

/** The photos of one measurement of scattered light. */
export interface GlarePhotos {
  /** What it is of. */
  label: string;
  /** Through the lens, the field at mid-grey. */
  with_normal: GlareSample | null;
  /** Through the lens, exposed longer. */
  with_long: GlareSample | null;
  /** Without the lens, the field at mid-grey. */
  without_normal: GlareSample | null;
  /** Without the lens, exposed longer. */
  without_long: GlareSample | null;
}

/** A comparison. */
export interface ComparisonView {
  /** The earlier one. */
  before: ComparedSide;
  /** The later one. */
  after: ComparedSide;
  /** One sentence. */
  headline: string;
  /** What was measured. */
  measured: ChangeView[];
  /** What was looked at and is another than before. */
  findings: ChangeView[];
  /** `12 points were found the same on both days.` */
  same_words: string;
  /** What has to be known. */
  notices: string[];
}

/** One of the two. */
export interface ComparedSide {
  /** Id of the inspection. */
  id: string;
  /** The camera's name. */
  title: string;
  /** Day of the last change: `2026-03-01`. */
  day: string;
  /** Key of the outcome. */
  outcome: string;
  /** The outcome in words. */
  outcome_words: string;
  /** Fingerprint. */
  fingerprint: string;
}

/** One thing before and after. */
export interface ChangeView {
  /** `point`, `meter`, `shutter`, `aperture`, `glare`. */
  about: string;
  /** Key of the point where `about` is `point`, else empty. */
  point: string;
  /** Key of its area, or empty. */
  area: string;
  /** `1/1000`. */
  name: string;
  /** As it was; empty where it was not known. */
  before: string;
  /** As it is; empty where it is not known. */
  after: string;
  /** After less before, where both were measured: in stops, or for scattered light as a share. */
  difference: number | null;
  /** Its standard uncertainty. */
  standard_uncertainty: number | null;
  /** `changed`, `within_doubt`, `new` or `gone`. */
  verdict: string;
  /** `no change beyond doubt`. */
  verdict_words: string;
  /** All of it in a sentence. */
  sentence: string;
}

/** The seals: the drawing, its places, what follows. */
export interface LightTightView {
  /** The open back with what was found. */
  drawing: Drawing;
  /** Side of the hinge. */
  hinge: string;
  /** Sides that the hinge can be on; empty where there is none. */
  hinges: Choice[];
  /** Feels to choose from. */
  feels: Choice[];
  /** Residues to choose from. */
  residues: Choice[];
  /** What the lamp can show. */
  lamps: Choice[];
  /** The places in order. */
  places: PlaceView[];
  /** `3 of 8 seals felt`. */
  progress: string;
  /** What the lamp showed, in short: `not yet`. */
  lamp_words: string;
  /** What to fit, a line each. */
  replace: string[];
  /** The caution before anything is washed off, or empty. */
  caution: string;
  /** Where round and look differ, a sentence each. */
  notices: string[];
}

/** A place of the open back. */
export interface PlaceView {
  /** Key. */
  key: string;
  /** Its number on the drawing. */
  number: string;
  /** Name in a few words. */
  name: string;
  /** Key of the catalogue's point. */
  point: string;
  /** Key of that point's area. */
  area: string;
  /** Whether there is something to be pressed. */
  pressed: boolean;
  /** Whether light can be looked for here. */
  shows_light: boolean;
  /** Key of the feel, or empty. */
  feel: string;
  /** Key of the residue, or empty. */
  residue: string;
  /** Key of what the lamp showed, or empty. */
  lamp: string;
  /** `worn`, `light comes out here`. */
  condition_words: string;
  /** The risk in a sentence, or empty. */
  risk: string;
  /** What to fit, or empty. */
  replace: string;
  /** Left on the drawing. */
  x: number;
  /** Top on the drawing. */
  y: number;
  /** Right on the drawing. */
  x2: number;
  /** Bottom on the drawing. */
  y2: number;
}

/** A leak's light, as typed. */
export interface DoseAsked {
  /** Illuminance on the film in lux. */
  illuminance: string;
  /** Its standard uncertainty in stops; empty for the usual one. */
  doubt: string;
  /** Key of the light in which that was found, see `lights`; empty where it is not known. */
  found_in: string;
  /** Film speed as marked. */
  film_speed: string;
  /** How long the camera lies, in minutes; may be empty. */
  minutes: string;
}

/** How long film may lie before fog shows. */
export interface Dose {
  /** Exposure at which fog begins to show, in lux seconds. */
  fog_exposure_lx_s: number;
  /** Illuminance on the film in lux. */
  illuminance_lux: number;
  /** Its standard uncertainty in stops. */
  standard_uncertainty_stops: number;
  /** Film speed, ISO arithmetic. */
  film_speed: number;
  /** Time until fog shows, in seconds. */
  time_s: number;
  /** Lower end of its 95 % interval in seconds: the time to keep to. */
  time_low_s: number;
  /** Upper end in seconds. */
  time_high_s: number;
  /** `30 min`. */
  time_words: string;
  /** `keep below 5 min; above 3 h it shows`. */
  doubt_words: string;
  /** The same leak in other lights; empty where the light in which it was found is not known. */
  lights: DoseInLight[];
  /** What a stated time comes to, or `null`. */
  after: DoseAfter | null;
  /** What has to be known, a sentence each. */
  notices: string[];
}

/** The same leak in another light. */
export interface DoseInLight {
  /** Key of the light. */
  key: string;
  /** `in the sun`. */
  words: string;
  /** Illuminance outside in lux. */
  outside_lux: number;
  /** Illuminance on the film in lux. */
  on_film_lux: number;
  /** Time until fog shows, in seconds. */
  time_s: number;
  /** Lower end of its 95 % interval in seconds. */
  time_low_s: number;
  /** Upper end in seconds. */
  time_high_s: number;
  /** `30 min`. */
  time_words: string;
  /** The time to keep to: `5 min`. */
  low_words: string;
}

/** The other way round: what a stated time comes to. */
export interface DoseAfter {
  /** The time in seconds. */
  time_s: number;
  /** Dose in lux seconds. */
  dose_lx_s: number;
  /** How far it lies above the exposure at which fog begins to show, in stops. */
  above_fog_stops: number;
  /** Illuminance on the film that begins to show after that time, in lux. */
  fogging_lux: number;
  /** A sentence. */
  sentence: string;
}

/** Where light comes out in a photo. */
export interface LeakPicture {
  /** Marks over the picture, in its pixels. */
  drawing: Drawing;
  /** How many spots there are. */
  spots: number;
  /** `Two spots: light comes out here.`. */
  words: string;
  /** What has to be known, a sentence each. */
  notices: string[];
}

/** What a photo's file says of itself. A place is never among it. */
export interface PhotoHead {
  /** Size of the picture as it stands upright; 0 where the file does not say. */
  width_px: number;
  /** The same. */
  height_px: number;
  /** Which phone and lens, the same for every photo by it; empty where the file does not say. */
  phone: string;
  /** `f/1.8, 1/125 s, ISO 64`. */
  exposure_words: string;
  /** Why it cannot be measured, a sentence each. */
  refusals: string[];
}

/** A rectangle of the upright picture in pixels. */
export interface PhotoPatch {
  /** Left column. */
  x: number;
  /** Top row. */
  y: number;
  /** Columns. */
  width: number;
  /** Rows. */
  height: number;
}

/** What was added up of a patch so far, strip by strip. */
export interface PatchSums {
  /** The patch. */
  patch: PhotoPatch;
  /** Light of each block; empty before the first strip. */
  light: number[];
  /** Pixels of each block. */
  counts: number[];
  /** Clipped pixels. */
  clipped: number;
  /** Nearly black pixels. */
  black: number;
}

/** A phone's calibration as the page keeps it. */
export interface PhoneCalibration {
  /** Which phone and lens, from [`PhotoHead::phone`]. */
  phone: string;
  /** When it was made. */
  at: string;
  /** What was trusted, in the person's words. */
  against: string;
  /** What is added to the EV of its photos, in stops. */
  offset_stops: number;
  /** Its standard uncertainty in stops. */
  standard_uncertainty_stops: number;
  /** Slope of its tone curve, where known. */
  tone_slope: number | null;
  /** How far its own brightness value usually lies above the exposure, in stops. */
  brightness_difference_stops: number | null;
  /** Photos that it rests on. */
  photos: number;
  /** `+0.32 ± 0.28 stop from three photos`. */
  words: string;
  /** What was noticed. */
  notices: string[];
}

/** One part of a doubt. */
export interface DoubtPart {
  /** What it comes from. */
  name: string;
  /** `±0.20 stop`, expanded. */
  words: string;
}

/** The light of a patch, or why there is none. */
export interface PhotoLight {
  /** Why it cannot be measured, a sentence each; then nothing else counts. */
  refusals: string[];
  /** What has to be known. */
  notices: string[];
  /** `EV 10.3`. */
  ev_words: string;
  /** `±0.9 stop`. */
  doubt_words: string;
  /** `161 cd/m²`. */
  luminance_words: string;
  /** Where the patch is plain white paper: the light that falls on it. */
  on_paper: PaperLight | null;
  /** The parts of the doubt, the largest first. */
  parts: DoubtPart[];
  /** The EV at ISO 100 as it goes into a level: `10.32`. */
  typed: string;
  /** Standard uncertainty that is new in every photo, in stops. */
  each_doubt_stops: number;
  /** Standard uncertainty that every photo by this phone shares, in stops. */
  shared_doubt_stops: number;
  /** For calibrating: EV of the exposure alone. */
  settings_ev100: number;
  /** For calibrating: how far the patch lies above the mid-tone, in stops. */
  tone_stops: number;
  /** For calibrating: the phone's own brightness value against the exposure, in stops. */
  brightness_difference_stops: number | null;
}

/** The light that falls on plain white paper, from a photo of it. */
export interface PaperLight {
  /** Illuminance in lux, as it goes into a field: `0.0123`. */
  illuminance: string;
  /** Standard uncertainty in stops, as it goes into a field. */
  doubt: string;
  /** `0.0123 lx ±0.9 stop`. */
  words: string;
}

/** How much brighter a patch is than it was. */
export interface LiveView {
  /** `1.0 stop brighter`. */
  words: string;
  /** `±0.5`. */
  doubt_words: string;
}

/** One photo for calibrating a phone. */
export interface CalibrationEntry {
  /** From [`PhotoLight`]. */
  settings_ev100: number;
  /** From [`PhotoLight`]. */
  tone_stops: number;
  /** From [`PhotoLight`]. */
  brightness_difference_stops: number | null;
  /** EV at ISO 100 by the trusted meter, as typed; empty for a photo of the same light with the slider moved. */
  typed: string;
}

/** A step of the round. */
export interface StepView {
  /** `identity`, the key of an area, `marked-times` or `meter-run`. */
  key: string;
  /** Name. */
  name: string;
  /** `3 of 8`, `not yet`. */
  state: string;
  /** Whether nothing of it is left. */
  done: boolean;
  /** What is left of it in seconds. */
  left_s: number;
  /** Keys of the points that are looked at meanwhile. */
  meanwhile: string[];
}

/** What is known about a recording or a clip before it is measured. */
export interface TakeAbout {
  /** When it was begun. */
  started: string;
  /** `sound`, `light` or `video`. */
  signal: string;
  /** `microphone`, or the name of a file. */
  source: string;
  /** How it was caught, a line each. */
  capture: string[];
  /** Key of the shutter's build; empty where unknown. */
  build: string;
  /** Whether a mirror moved with the shots. */
  mirror: boolean;
  /** The marked times in the order they were fired, one for each shot asked for; empty where the order is unknown. */
  asked: string[];
  /** For a clip: share of the frame interval that each frame is exposed for, as typed; empty where unknown. */
  duty: string;
  /** For a clip: true frames per second as typed, where the file's own are slow motion; empty for the file's own. */
  capture_rate: string;
  /** For a clip: linear values at full-stop steps of the lens aperture, the widest first; empty where not stepped. */
  tone_steps: number[];
}

/** What is heard in the last few seconds, while a take runs. */
export interface Listening {
  /** Shots so far in the window, in the order of time. */
  heard: HeardShot[];
  /** Whether the input is driven too hard. */
  clipped: boolean;
  /** Whether there is too much going on between shots. */
  busy: boolean;
  /** Whether nothing at all comes in. */
  dead: boolean;
  /** What to do about it in a sentence, or empty. */
  advice: string;
  /** Level of the quiet, in words: `quiet`, `some noise`, `loud`. */
  floor_words: string;
}

/** A shot that was just caught. */
export interface HeardShot {
  /** Where it begins in the window, in seconds. */
  start_s: number;
  /** Where it ends in the window, in seconds. */
  end_s: number;
  /** Its provisional time in words, or empty: `about 1/60 s`. */
  words: string;
}

/** A box of a clip's file. */
export interface MovieBox {
  /** Four letters. */
  kind: string;
  /** Where it begins in the file, in bytes. */
  start: number;
  /** Its size with its head, in bytes. */
  size: number;
}

/** What a clip's file says about its frames. */
export interface Movie {
  /** When each frame is shown, in seconds, in the order of time. */
  frame_times_s: number[];
  /** Frames per second as the file plays. */
  file_rate_hz: number;
  /** Frames per second as it was captured, where the file says so. */
  capture_rate_hz: number | null;
  /** `The file plays at 30 frames a second; it was captured at 240.` */
  rate_words: string;
  /** What has to be asked because they disagree, or empty. */
  question: string;
  /** Short name of the coding. */
  codec: string;
  /** Width in pixels. */
  width_px: number;
  /** Height in pixels. */
  height_px: number;
  /** One tick of the file's clock in seconds. */
  clock_step_s: number;
  /** What has to be known, a sentence each. */
  notices: string[];
}

/** Linear light of the three strips in one frame. */
export interface FrameStrips {
  /** Mean linear light left, middle, right, 0 to 1. */
  means: number[];
  /** Share of clipped white. */
  clipped_share: number;
}

/** The frames of a clip after they were read. */
export interface FrameTable {
  /** Five numbers for each frame, one after another: when it was shown in seconds, linear light left, middle and right, and the share of clipped white. */
  rows: number[];
  /** One tick of the file's clock in seconds, from [`Movie::clock_step_s`]; 0 where unknown. */
  clock_step_s: number;
}

/** What the shutter's page shows besides the results themselves. */
export interface ShutterView {
  /** Error against marked time, or `null`. */
  plot: Drawing | null;
  /** One bar about zero per marked time with a result, in the order of the results; an empty drawing where there is no time. */
  bars: Drawing[];
  /** The takes as said. */
  takes: TakeView[];
  /** The camera's marked times, with how many shots each has. */
  marks: MarkView[];
  /** What a build is taken for where none was entered. */
  build: string;
}

/** A take as said. */
export interface TakeView {
  /** `Sound, 24 shots`. */
  title: string;
  /** Its shots as said. */
  shots: ShotView[];
  /** What has to be known about it and about most of its shots. */
  notices: string[];
}

/** A shot as said. */
export interface ShotView {
  /** `12.4 s`: where it stands in the take. */
  at_words: string;
  /** `1/310 s`, or `cannot tell`. */
  time_words: string;
  /** `0.8 under`, or empty. */
  error_words: string;
  /** `0.82 under ±0.04`: the same with its doubt; without it where there is none. */
  full_words: string;
  /** `measured`. */
  state_words: string;
  /** Other times that would fit, or empty. */
  candidates_words: string;
  /** What has to be known about this shot in particular. */
  notices: string[];
  /** Whether it would fit another mark nearly as well, and the person has not said which one it was. */
  mark_unsure: boolean;
}

/** A marked time of the camera. */
export interface MarkView {
  /** The mark. */
  mark: string;
  /** As shown: `1/500`. */
  label: string;
  /** As spoken: `one five-hundredth`. */
  spoken: string;
  /** How many shots count for it. */
  shots: number;
}

/** A take that was measured, ready to be kept. */
export interface MeasuredTake {
  /** The take in the file's shape. */
  take: Take;
  /** `11 shots found, 10 with a time.` */
  summary: string;
}

/** Sun and sky at a place and time. */
export interface SunView {
  /** `51.2°, south-west`. */
  sun_words: string;
  /** Why no light can be reckoned, or empty. */
  refusal: string;
  /** The light on each surface; empty where there is none. */
  surfaces: SunSurface[];
  /** What to mind. */
  notices: string[];
  /** The day with now marked. */
  plot: Drawing | null;
  /** `good to a third of a stop from 10:20 to 15:40`. */
  good_words: string;
}

/** The light on one surface. */
export interface SunSurface {
  /** Key: `horizontal`, `facing-sun`, `upright`. */
  key: string;
  /** `a flat surface`. */
  words: string;
  /** Whether it is the one that is known best now. */
  best: boolean;
  /** `82 klx`. */
  lux_words: string;
  /** `EV 15.0`. */
  ev_words: string;
  /** `±0.7 stop`. */
  doubt_words: string;
  /** `sunny 16 reads 0.2 stop high for …`. */
  sunny16_words: string;
  /** Illuminance in lux as it goes into a level. */
  typed: string;
  /** Standard uncertainty that is new at every reading, in stops. */
  each_doubt_stops: number;
  /** Standard uncertainty that all readings of an hour share, in stops. */
  shared_doubt_stops: number;
}

/** A large city to choose in place of a position. */
export interface CityChoice {
  /** Name. */
  name: string;
  /** Latitude in degrees as typed, north positive. */
  latitude: string;
  /** Longitude in degrees as typed, east positive. */
  longitude: string;
}

/** The screen as a lamp. */
export interface LampView {
  /** Width of the field in device pixels: whole tiles. */
  width_px: number;
  /** Height of the field in device pixels. */
  height_px: number;
  /** Device pixels along the side of a tile. */
  tile_px: number;
  /** `full white EV 11.3, read by a trusted meter`. */
  white_words: string;
  /** Standard uncertainty that all steps share, in stops. */
  shared_doubt_stops: number;
  /** Whether a trusted meter has read full white. */
  calibrated: boolean;
  /** The steps, full white first. */
  steps: LampStep[];
}

/** A step of the lamp. */
export interface LampStep {
  /** `1/8`: share of the device pixels that are white. */
  key: string;
  /** `3 stops down, 1 cell in 8 white`. */
  words: string;
  /** `EV 8.3`. */
  ev_words: string;
  /** EV at ISO 100 as it goes into a level. */
  typed: string;
  /** Standard uncertainty that is new at this step, in stops. */
  each_doubt_stops: number;
  /** One tile, row by row: 255 where a device pixel is white, 0 where it is black. */
  tile: number[];
}

/** The test roll as its pages show it. */
export interface TestRollView {
  /** The open back with what was found at the seals, and marked where the roll points. */
  drawing: Drawing;
  /** Whether the roll points at a place of the drawing. */
  points: boolean;
  /** How far it is: `not_begun`, `at_the_camera`, `waiting` or `read`. */
  state: string;
  /** `exposed 2026-03-01, waiting for the film`. */
  headline: string;
  /** What to do at the camera; nothing for sheet film. */
  steps: RollStepView[];
  /** `about 20 minutes left`, or empty. */
  left_words: string;
  /** The blank frames to choose from. */
  blanks: Choice[];
  /** How a strip can lie. */
  lies: Choice[];
  /** Films to choose from. */
  films: Choice[];
  /** Ways in which curtains run. */
  travels: Choice[];
  /** The camera's marked times. */
  times: Choice[];
  /** The density map of each blank frame; `null` where there is none. */
  maps: (Drawing | null)[];
  /** The profile of each wall; `null` where there is none. */
  profiles: (Drawing | null)[];
}

/** A step at the camera. */
export interface RollStepView {
  /** Key. */
  key: string;
  /** In a few words. */
  name: string;
  /** What to do. */
  text: string;
  /** `4 min`. */
  minutes_words: string;
  /** What a timer counts in seconds; 0 where nothing is to be counted. */
  timer_s: number;
  /** `frame 2`, or empty. */
  frame_words: string;
  /** Whether it is ticked off. */
  done: boolean;
}

/** A blank frame read from a photo. */
export interface FilmRead {
  /** As it is kept. */
  frame: RollFrame;
  /** Why the photo cannot be measured, or empty; such a frame is not kept. */
  refusal: string;
  /** The gate's corners as they were taken, x and y by turns, in pixels of the averaged picture. */
  corners_px: number[];
  /** Whether the film's edges were found. */
  edges_found: boolean;
}
