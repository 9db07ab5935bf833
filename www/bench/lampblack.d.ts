/**
 * The bridge as the worker sees it: one function per thing that can be asked, with the shapes that go in and come out.
 * Not here: the module itself, which is built beside this file; the promise per question, which is the client's.
 */

import type { Accepted, CalibrationEntry, CityChoice, ComparisonView, Dose, DoseAsked, FilmRead, FoundOpening, FrameStrips, GlareMeasured, GlarePhotos, GlareSample, Hole, Inspection, LampView, LeakPicture, Level, LevelPreview, Listening, LiveView, MeasuredTake, Movie, MovieBox, OpeningShot, PatchSums, PhoneCalibration, PhotoHead, PhotoLight, PictureAbout, Place, RollWall, Sheet, SunView, TakeAbout, Taken } from "./shapes.js";

/** A structure as JSON, which the page reads. */
export type Json<Shape> = string & { readonly holds?: Shape };

/** Fetches and starts the module. */
export default function init(from: { module_or_path: URL }): Promise<unknown>;

/** Program and version. */
export function version(): string;
/** The places of a dial, between-mark ones included. */
export function places(marks: string[], between: string, dial: string): Json<Place[]>;
/** A new inspection of a camera of which only the kind is known. */
export function new_inspection(kind: string, now: string, now_ms: number): Json<Accepted>;
/** Checks an inspection that was changed, works out its result, raises its revision. */
export function accept(inspection: Inspection, now: string): Json<Accepted>;
/** What the pages of an inspection show. */
export function view(inspection: Inspection): Json<Accepted>;
/** What a level would add to a run. */
export function preview_level(inspection: Inspection, run_index: number, level: Level): Json<LevelPreview>;
/** The sheet of an inspection. */
export function sheet(inspection: Inspection, now: string): Json<Sheet>;
/** A new inspection of the same camera. */
export function inspect_again(inspection: Inspection, now: string, now_ms: number): Json<Accepted>;
/** Two inspections side by side. */
export function compare(one: Inspection, other: Inspection): Json<ComparisonView>;
/** What a file holds. */
export function read_file(text: string): Json<Taken>;
/** Whether two inspections hold the same. */
export function same(a: Inspection, b: Inspection): boolean;
/** The text of an inspection's file. */
export function write_file(inspection: Inspection): string;
/** The text of a bench backup. */
export function write_bench(inspections: Inspection[], now: string): string;
/** What an inspection's file is called. */
export function file_name(inspection: Inspection): string;
/** Measures a recording: its shots with their times. One or two channels of full scale 1. */
export function measure_recording(channels: Float32Array[], rate_hz: number, about: TakeAbout): Json<MeasuredTake>;
/** The same from the bytes of a WAV file. */
export function measure_wav(bytes: Uint8Array, about: TakeAbout): Json<MeasuredTake>;
/** What is heard in the last few seconds of a take; `about.asked` holds the marked time that is asked for now. */
export function listen(samples: Float32Array, rate_hz: number, about: TakeAbout): Json<Listening>;
/** The box of a clip's file that begins with these bytes (16 are enough), standing at a place of a file of this size. */
export function movie_box(head: Uint8Array, at: number, file_size: number): Json<MovieBox>;
/** What the box `moov` of a clip says about its frames. */
export function read_movie(moov: Uint8Array): Json<Movie>;
/** Linear light of three strips of one frame; `across`: the curtain travels along the width. */
export function frame_strips(rgba: Uint8ClampedArray, width: number, height: number, across: boolean): Json<FrameStrips>;
/** Measures the frames of a clip, the rows of its table one after another. */
export function measure_frames(rows: Float64Array, clock_step_s: number, about: TakeAbout): Json<MeasuredTake>;
/** What the original bytes of a photo say. */
export function photo_head(bytes: Uint8Array): Json<PhotoHead>;
/** Adds a strip of the upright picture to what was added up of a patch. */
export function photo_strip(before: PatchSums, rgba: Uint8ClampedArray, width: number, left: number, top: number): Json<PatchSums>;
/** The light of a patch, by the phone's calibration where there is one. */
export function photo_light(bytes: Uint8Array, patch: PatchSums | null, calibration: PhoneCalibration | null): Json<PhotoLight>;
/** A phone's calibration from photos beside a trusted meter. */
export function calibrate_phone(entries: CalibrationEntry[], meter_doubt: string, phone: string, against: string, now: string): Json<PhoneCalibration>;
/** What the calibrations of one phone and lens say of one another. */
export function calibration_history(entries: PhoneCalibration[]): Json<string[]>;
/** Large cities to choose in place of a position. */
export function cities(): Json<CityChoice[]>;
/** Sun and sky at a time and place; `zone_min` is what the clock on the wall is ahead of UTC. */
export function sun_view(at: string, zone_min: number, latitude: string, longitude: string, sky: string): Json<SunView>;
/** The screen as a lamp in a place of so many device pixels. */
export function lamp_view(white: string, meter_doubt: string, kind: string, width_px: number, height_px: number): Json<LampView>;
/** What a picture's file says of itself. */
export function picture_about(bytes: Uint8Array): Json<PictureAbout>;
/** How often a picture of this size is averaged down. */
export function picture_factor(width: number, height: number): number;
/** Light of a strip of a canvas, averaged over squares. */
export function picture_strip(rgba: Uint8ClampedArray, width: number, height: number, factor: number): Float32Array;
/** The opening about a tap in pixels of the averaged picture. */
export function find_opening(light: Float32Array, width: number, height: number, x: number, y: number, shown: string, dial: string[]): Json<FoundOpening>;
/** Photos with their marks and sides guessed, in the order they were taken. */
export function guess_openings(openings: OpeningShot[], dial: string[]): Json<OpeningShot[]>;
/** The black hole about a tap, in pixels of the whole picture. */
export function find_hole(light: Float32Array, width: number, height: number, x: number, y: number, factor: number): Json<Hole>;
/** Light of a hole and its field, from the part of the picture that the hole asks for. */
export function glare_sample(rgba: Uint8ClampedArray, hole: Hole, ev100: number | undefined, name: string): Json<GlareSample>;
/** What a lens scatters. */
export function measure_glare(photos: GlarePhotos, now: string): Json<GlareMeasured>;
/** How often a photo of a strip is averaged down, from the gate's corners in its own pixels, x and y by turns. */
export function film_factor(corners: Float64Array): number;
/** Whether a film has a colour negative's mask, from a small view of its photo. */
export function film_masked(rgba: Uint8ClampedArray, width: number, height: number, corners: Float64Array): boolean;
/** A blank frame, by the gate's corners in pixels of the averaged picture. */
export function read_blank(light: Float32Array, width: number, height: number, corners: Float64Array, film: string, masked: boolean, now: string): Json<FilmRead>;
/** One photo of a wall, laid out. */
export function lay_out_wall(light: Float32Array, width: number, height: number, corners: Float64Array): Float32Array;
/** A wall from one to four photos that were laid out; those that were not taken are empty. */
export function read_wall(main: Float32Array, minus_one: Float32Array, plus_one: Float32Array, turned: Float32Array, travel: string, now: string): Json<RollWall>;
/** How long a loaded camera may lie before a leak shows. */
export function dose(asked: DoseAsked): Json<Dose>;
/** Where light comes out: two pictures of the same size, four bytes a pixel, with the lamp on and with it off. */
export function leak_picture(on: Uint8ClampedArray, off: Uint8ClampedArray, width: number, height: number): Json<LeakPicture>;
/** How much brighter a patch is than it was, with the exposure locked. */
export function patch_difference(before: PatchSums, now: PatchSums): Json<LiveView>;
