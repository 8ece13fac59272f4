// Tolerances in words, the same for screen and terminal.
import type { SpreadName } from '../job/tolerances/run.ts'
import type { Tolerance, ToleranceName } from '../lamp/schema.ts'
import { type SweptWords, sweptWords } from './sweep.ts'

export interface ToleranceWords {
  name: string
  /** share: of 1, shown in per cent. */
  unit: 'mm' | 'deg' | 'share'
  /** What varies, and what goes with what. */
  what: string
}

export const TOLERANCE_WORDS: Record<ToleranceName, ToleranceWords> = {
  lensDistanceMm: {
    name: 'Lens distance',
    unit: 'mm',
    what: 'The lens along the axis; the tunnel’s end goes with it.',
  },
  lensTiltDeg: {
    name: 'Lens tilt',
    unit: 'deg',
    what: 'The lens about its x and its y, each by itself. Where its edge would stand in the tunnel, the tunnel is as much shorter.',
  },
  lensDecentreMm: { name: 'Lens off centre', unit: 'mm', what: 'The lens along x and y, each by itself.' },
  focalShare: {
    name: 'Focal length',
    unit: 'share',
    what: 'Of the lens; of one with a curved side, the radius of the curve.',
  },
  boardPlaceMm: { name: 'Board places', unit: 'mm', what: 'Every board by itself, along x and along y.' },
  aimDeg: { name: 'Aim of the optics', unit: 'deg', what: 'Every optic by itself, about its x and about its y.' },
  fwhmShare: {
    name: 'Width of the collimators',
    unit: 'share',
    what: 'Full width at half of every type of collimator, all of a type alike.',
  },
  lotFluxShare: {
    name: 'Flux bin',
    unit: 'share',
    what: 'Flux of every type of emitter, all of a type alike, as from one lot.',
  },
  boardFluxShare: { name: 'Flux, board by board', unit: 'share', what: 'Every board by itself, over the flux bin.' },
  wallReflectance: {
    name: 'Wall reflectance',
    unit: 'share',
    what: 'Points added to the reflectance of the tunnel’s wall, all stretches alike.',
  },
  currentShare: {
    name: 'Currents',
    unit: 'share',
    what: 'Current of every board by itself. Where the light is that of a mode’s moment, flux goes with it in proportion.',
  },
}

export const SPREAD_WORDS: Record<Tolerance['spread'], string> = {
  normal: 'normal, ± is 2 σ',
  uniform: 'uniform, ± is the end',
  measured: 'measured',
}

export const TYPICAL_NOTE = 'Typical values where you have set none: common practice, no source. Measure your own.'

/** Why the two ± don't mix. */
export const TWO_ERRORS_NOTE =
  '± of tracing says how well this program knows the lamp as drawn, and shrinks with more rays. ± of building says how the lamps that you may build differ, and doesn’t.'

/** Of a figure that a run over built lamps spreads. */
export const spreadWords = (name: SpreadName): Pick<SweptWords, 'name'> & { unit: SweptWords['unit'] | '°C' } =>
  name === 'junctionC' ? { name: 'Hottest junction', unit: '°C' } : sweptWords(name)

/** What isn't spread, and why. */
export const NOT_SPREAD_NOTE =
  'The sun is traced for the drawn lamp alone, of built ones it is bounded. Eyes aren’t spread: their distances need the danger sheet’s search for each lamp.'
