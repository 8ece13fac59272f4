// The example lamps. All invented. `npm run examples` writes them to public/examples.
import type { Board, BoardType, Lamp, Site } from '../lamp/schema.ts'
import { LAMP_VERSION } from '../lamp/schema.ts'
import { hexagonalPlaces } from '../num/places.ts'
import type { DemoName } from './demoNames.ts'
import {
  benchPower,
  gannetCooling,
  gannetPower,
  rinkCooling,
  rinkPower,
  stileCooling,
  stilePower,
} from './demoPower.ts'
import { binLamp, slipLight } from './demosAssembled.ts'
import { emitterById } from './emitters.ts'

const invented = 'An invented example; no such lamp was built.'

const oneAndSix = (pitchMm: number): Site[] => hexagonalPlaces(1, pitchMm)

const boardsAt = (type: string, currentA: number, places: { xMm: number; yMm: number }[]): Board[] =>
  places.map((p, i) => ({ id: `B${i + 1}`, type, ...p, turnDeg: 0, currentA }))

const sevenBoard: BoardType = {
  id: 'seven',
  name: 'Seven on a disc, 1 + 6 at 12 mm',
  outline: { shape: 'disc', diameterMm: 35 },
  emitter: 'one-die-5',
  sites: oneAndSix(12),
}

const collimator12 = {
  kind: 'collimator' as const,
  id: 'collimator-12',
  name: 'Collimator 12°, 10 mm',
  exitDiameterMm: 10,
  heightMm: 12,
  fwhmDeg: 12,
  shape: 'gaussian' as const,
  efficiency: 0.88,
}
const bare = { kind: 'bare' as const, id: 'bare', name: 'Bare emitter' }
const reading = { axialConeHalfDeg: 0.25, hotDiscMm: 10, sunWm2: 1000, sunTiltDeg: 0, ambientC: 20 }

export function gannetHead(): Lamp {
  return {
    format: 'lamp',
    version: LAMP_VERSION,
    name: 'Gannet Head',
    note: `A fixed searchlight for a volunteer coast-watch hut, to find a kayak at 800 m. The lens stands a little inside its focal distance on purpose: exactly at the focus the beam is a picture of the array. ${invented}`,
    target: { name: 'Kayak', distanceM: 800, widthM: 40, heightM: 40, coneHalfDeg: 2 },
    // A collimator of 10 mm can give 12° only from a source under 0.86 mm² (étendue: A sin² 6° of its exit): a typical 2 mm die would not do.
    emitterTypes: [emitterById('small-die-5')],
    opticTypes: [collimator12, bare],
    boardTypes: [{ ...sevenBoard, emitter: 'small-die-5' }],
    optic: 'collimator-12',
    face: { shape: 'round', sizeMm: 200, reflectance: 0.75, keepOuts: [], clearanceMm: 0.5, marginMm: 2 },
    boards: boardsAt('seven', 2, hexagonalPlaces(2, 36)),
    tunnel: {
      sides: 0,
      inMm: 200,
      outMm: 560,
      zInMm: 14,
      zOutMm: 1040,
      reflectance: 0.88,
      specularShare: 0.9,
      scatterDeg: 1,
    },
    lens: {
      kind: 'fresnel',
      zMm: 1050,
      focalMm: 1100,
      diameterMm: 560,
      aperture: 'round',
      thicknessMm: 3,
      pitchMm: 0.5,
      grooves: 'target',
      draftDeg: 3,
      tipShare: 0,
      material: 'pmma',
      designNm: 587.6,
    },
    reading,
    heat: { kind: 'rated' },
    cooling: gannetCooling,
    power: gannetPower,
  }
}

export function stileLamp(): Lamp {
  return {
    ...gannetHead(),
    name: 'Stile lamp',
    note: `A hand-held lamp for a footpath: one board, no tunnel, no lens. ${invented}`,
    target: { name: 'Path', distanceM: 15, widthM: 6, heightM: 3, coneHalfDeg: 10 },
    emitterTypes: [emitterById('one-die-3.5')],
    opticTypes: [{ ...collimator12, id: 'collimator-20', name: 'Collimator 20°, 10 mm', fwhmDeg: 20 }, bare],
    boardTypes: [{ ...sevenBoard, emitter: 'one-die-3.5' }],
    optic: 'collimator-20',
    face: { shape: 'round', sizeMm: 60, reflectance: 0.75, keepOuts: [], clearanceMm: 0.5, marginMm: 2 },
    boards: boardsAt('seven', 1, [{ xMm: 0, yMm: 0 }]),
    tunnel: null,
    lens: null,
    cooling: stileCooling,
    power: stilePower,
  }
}

export function iceRink(): Lamp {
  return {
    ...gannetHead(),
    name: 'Ice rink',
    note: `A wide, even beam over a rink from a mast: hexagonal face, short hexagonal tunnel, no lens. ${invented}`,
    target: { name: 'Ice', distanceM: 18, widthM: 20, heightM: 12, coneHalfDeg: 30 },
    emitterTypes: [emitterById('four-die-7')],
    opticTypes: [
      {
        ...collimator12,
        id: 'collimator-45',
        name: 'Collimator 45°, 14 mm',
        exitDiameterMm: 14,
        heightMm: 10,
        fwhmDeg: 45,
        efficiency: 0.9,
      },
      bare,
    ],
    boardTypes: [
      {
        id: 'three',
        name: 'Three in a row, 20 mm',
        outline: { shape: 'rectangle', widthMm: 64, heightMm: 22 },
        emitter: 'four-die-7',
        sites: [-20, 0, 20].map((xMm) => ({ xMm, yMm: 0 })),
      },
    ],
    optic: 'collimator-45',
    face: {
      shape: 'hexagon',
      sizeMm: 240,
      reflectance: 0.8,
      keepOuts: [{ shape: 'hole', xMm: 0, yMm: 0, diameterMm: 12, why: 'Cable' }],
      clearanceMm: 2,
      marginMm: 5,
    },
    boards: boardsAt(
      'three',
      1.4,
      [-72, -42, 42, 72].flatMap((yMm) =>
        Math.abs(yMm) > 60
          ? [
              { xMm: -34, yMm },
              { xMm: 34, yMm },
            ]
          : [
              { xMm: -68, yMm },
              { xMm: 0, yMm },
              { xMm: 68, yMm },
            ],
      ),
    ).map((b) => ({ ...b, group: Math.abs(b.yMm) > 60 ? 'outer' : 'inner' })),
    tunnel: {
      sides: 6,
      inMm: 250,
      outMm: 320,
      zInMm: 16,
      zOutMm: 140,
      reflectance: 0.9,
      specularShare: 0.3,
      scatterDeg: 5,
    },
    lens: null,
    cooling: rinkCooling,
    power: rinkPower,
  }
}

export function benchCheck(): Lamp {
  return {
    ...gannetHead(),
    name: 'Bench check',
    note: `One cosine emitter, 2 mm square, at the focus of an ideal lens: every number can be done by hand. ${invented}`,
    target: { name: 'Wall', distanceM: 10, widthM: 0.4, heightM: 0.4, coneHalfDeg: 1 },
    emitterTypes: [
      { ...emitterById('one-die-5'), fluxLm: 1000, heightMm: 0, spectrum: { kind: 'mono', wavelengthNm: 555 } },
    ],
    opticTypes: [bare],
    boardTypes: [
      {
        id: 'one',
        name: 'One emitter',
        outline: { shape: 'disc', diameterMm: 20 },
        emitter: 'one-die-5',
        sites: [{ xMm: 0, yMm: 0 }],
      },
    ],
    optic: 'bare',
    face: { shape: 'round', sizeMm: 40, reflectance: 0, keepOuts: [], clearanceMm: 0.5, marginMm: 2 },
    boards: boardsAt('one', 2, [{ xMm: 0, yMm: 0 }]),
    tunnel: null,
    lens: { kind: 'ideal', zMm: 200, focalMm: 200, diameterMm: 200 },
    cooling: { ...stileCooling, sink: { kind: 'fins', count: 5, heightMm: 25, thicknessMm: 1.5, spacingMm: 6 } },
    power: benchPower,
  }
}

export function wideArray(): Lamp {
  // It says nothing of cooling and supply: both are then taken as typical.
  const { cooling: _, power: __, ...lamp } = gannetHead()
  return {
    ...lamp,
    name: 'Wide array',
    note: `Teaches by failing: 37 boards over 330 mm behind a lens of 620 mm focal length. An array half as wide as the focal length spreads over 30°, so the lens makes the beam no narrower than the collimators do alone. ${invented}`,
    face: { ...lamp.face, sizeMm: 330 },
    boards: boardsAt('seven', 2, hexagonalPlaces(3, 45)),
    tunnel: { ...lamp.tunnel!, inMm: 340, outMm: 560, zOutMm: 600 },
    lens: { ...(lamp.lens as Extract<Lamp['lens'], { kind: 'fresnel' }>), zMm: 620, focalMm: 620 },
  }
}

/** By the name used on the command line. */
export const DEMOS: Record<DemoName, () => Lamp> & Record<string, () => Lamp> = {
  'gannet-head': gannetHead,
  'stile-lamp': stileLamp,
  'ice-rink': iceRink,
  'bench-check': benchCheck,
  'wide-array': wideArray,
  'bin-lamp': binLamp,
  'slip-light': slipLight,
}
