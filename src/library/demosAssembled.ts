// Example lamps whose tunnel has several stretches or a rectangular section, with covers and pieces of lenses. Both invented, as those of demos.ts.
import type { Board, Lamp, OpticType } from '../lamp/schema.ts'
import { LAMP_VERSION } from '../lamp/schema.ts'
import { ringPlaces } from '../num/places.ts'
import { binCooling, binPower, slipCooling, slipPower } from './demoPower.ts'
import { emitterById } from './emitters.ts'
import { finishById, finishFields } from './wallFinishes.ts'

const invented = 'An invented example; no such lamp was built.'

const reading = { axialConeHalfDeg: 0.25, hotDiscMm: 10, sunWm2: 1000, sunTiltDeg: 0, ambientC: 20 }
const bare = { kind: 'bare' as const, id: 'bare', name: 'Bare emitter' }

const boardsOf = (type: string, currentA: number, places: readonly { xMm: number; yMm: number; turnDeg?: number }[]) =>
  places.map((p, i): Board => ({ id: `B${i + 1}`, type, turnDeg: 0, ...p, currentA }))

/** A board in the middle and rings of boards of 36 mm, 1.2 mm apart: 1 + 6 + 12 + 18, and 13 on the outermost, which would hold 24. */
const FIFTY = [{ xMm: 0, yMm: 0 }, ...[6, 12, 18, 13].flatMap((n, ring) => ringPlaces(n, 37.2 * (ring + 1)))]

const collimator60: OpticType = {
  ...{ kind: 'collimator', id: 'collimator-60', name: 'Collimator 60°, 10 mm', exitDiameterMm: 10 },
  ...{ heightMm: 9, fwhmDeg: 60, shape: 'gaussian', efficiency: 0.9 },
}

export function binLamp(): Lamp {
  const tape = finishFields(finishById('aluminium-tape'))
  const zinc = finishFields(finishById('galvanised-steel'))
  return {
    format: 'lamp',
    version: LAMP_VERSION,
    name: 'Bin lamp',
    note: `A yard light from a square galvanised bin that widens to its sides: fifty boards of six on its bottom, aluminium tape up to the rolled rim, and a page magnifier of PVC over the mouth. The sheet is cut off its centre; moved back by as much, its optical centre stands over the axis. ${invented}`,
    target: { name: 'Yard', distanceM: 25, widthM: 12, heightM: 8, coneHalfDeg: 15 },
    emitterTypes: [emitterById('one-die-3.5')],
    opticTypes: [collimator60, bare],
    boardTypes: [
      {
        id: 'six',
        name: 'Six on a ring of 11 mm',
        outline: { shape: 'disc', diameterMm: 36 },
        emitter: 'one-die-3.5',
        sites: ringPlaces(6, 11),
      },
    ],
    optic: 'collimator-60',
    face: { shape: 'round', sizeMm: 340, reflectance: 0.8, keepOuts: [], clearanceMm: 1, marginMm: 2 },
    boards: boardsOf('six', 0.35, FIFTY),
    tunnel: {
      ...{ sides: 4, inMm: 344, inHeightMm: 344, zInMm: 14, ...tape },
      joints: [{ zMm: 520, belowMm: 464, belowHeightMm: 340, aboveMm: 470, aboveHeightMm: 344, ...zinc }],
      ...{ zOutMm: 560, outMm: 470, outHeightMm: 344 },
    },
    lens: {
      ...{ kind: 'fresnel', zMm: 568, focalMm: 600, thicknessMm: 2, pitchMm: 0.5, material: 'pvc', designNm: 587.6 },
      ...{ aperture: 'rectangle', diameterMm: 500, heightMm: 350, centreXMm: 15, decentreXMm: -15 },
      ...{ grooves: 'target', draftDeg: 5, tipShare: 0.02 },
    },
    reading,
    heat: { kind: 'rated' },
    cooling: binCooling,
    power: binPower,
  }
}

/** Wide to the sides, flat in height. */
const collimatorFlat: OpticType = {
  ...{ kind: 'collimator', id: 'collimator-flat', name: 'Collimator 70° × 28°, 14 mm', exitDiameterMm: 14 },
  ...{ heightMm: 10, fwhmDeg: 70, fwhmYDeg: 28, shape: 'gaussian', efficiency: 0.88 },
}

export function slipLight(): Lamp {
  const sheet = finishFields(finishById('lighting-sheet'))
  return {
    format: 'lamp',
    version: LAMP_VERSION,
    name: 'Slip light',
    note: `A flat, wide beam along a boat slip: six boards of three in a rectangular duct of lighting sheet that widens to the sides, behind a clear pane of glass. ${invented}`,
    target: { name: 'Slip', distanceM: 12, widthM: 14, heightM: 4, coneHalfDeg: 25 },
    emitterTypes: [emitterById('four-die-7')],
    opticTypes: [collimatorFlat, bare],
    boardTypes: [
      {
        id: 'three',
        name: 'Three in a row, 20 mm',
        outline: { shape: 'rectangle', widthMm: 64, heightMm: 22 },
        emitter: 'four-die-7',
        sites: [-20, 0, 20].map((xMm) => ({ xMm, yMm: 0 })),
      },
    ],
    optic: 'collimator-flat',
    face: {
      ...{ shape: 'rectangle', sizeMm: 240, heightMm: 120, reflectance: 0.8 },
      ...{ keepOuts: [], clearanceMm: 2, marginMm: 5 },
    },
    boards: boardsOf(
      'three',
      0.7,
      [-27, 0, 27].flatMap((yMm) => [-36, 36].map((xMm) => ({ xMm, yMm }))),
    ),
    tunnel: {
      ...{ sides: 4, inMm: 150, inHeightMm: 84, outMm: 300, outHeightMm: 110, zInMm: 14, zOutMm: 130 },
      ...sheet,
    },
    lens: null,
    elements: [
      {
        ...{ kind: 'cover', name: 'Clear pane', zMm: 134, thicknessMm: 4, material: 'float' },
        ...{ aperture: 'rectangle', diameterMm: 310, heightMm: 120 },
      },
    ],
    reading,
    heat: { kind: 'rated' },
    cooling: slipCooling,
    power: slipPower,
  }
}
