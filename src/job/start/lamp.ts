// A new lamp from a builder's answers, and an empty one.
import type { Lamp, Lens, OpticType, Target, Tunnel } from '../../lamp/schema.ts'
import { LAMP_VERSION } from '../../lamp/schema.ts'
import type { FillOptions, FillPattern } from '../../layout/fill.ts'
import { emitterById } from '../../library/emitters.ts'
import { finishById, finishFields } from '../../library/wallFinishes.ts'
import { type Answers, FIRST_ANSWERS, type Followed } from './answers.ts'
import { CLEARANCE_MM, follow, MARGIN_MM, mouthMm, opticTopMm, startBoard, tunnelFromMm } from './light.ts'
import { loadOf, startCooling, startPower } from './supply.ts'

const READING = { axialConeHalfDeg: 0.25, hotDiscMm: 10, sunWm2: 1000, sunTiltDeg: 0, ambientC: 20 }
const BARE: OpticType = { kind: 'bare', id: 'bare', name: 'Bare emitter' }
const SIDES: Record<Answers['face'], Tunnel['sides']> = { round: 0, hexagon: 6, square: 4 }
const PATTERNS: Record<Answers['face'], FillPattern> = { round: 'hexagonal', hexagon: 'hexagonal', square: 'square' }
const TARGET_M = 25

export interface Begun {
  /** All but its boards. */
  lamp: Lamp
  /** How its face is to be filled with them. */
  fill: FillOptions
}

export function beginLamp(answers: Answers): Begun {
  const followed = follow(answers)
  const type = startBoard(answers)
  const optics = opticsOf(answers, followed)
  const power = startPower(answers, followed)
  const { strings } = loadOf(answers, followed)
  const lamp: Lamp = {
    format: 'lamp',
    version: LAMP_VERSION,
    name: answers.name,
    note: '',
    target: targetOf(answers, followed),
    emitterTypes: [emitterById(answers.emitter)],
    opticTypes: optics,
    boardTypes: [strings > 1 ? { ...type, strings } : type],
    optic: optics[0]!.id,
    face: {
      shape: answers.face,
      sizeMm: followed.faceMm,
      reflectance: 0.8,
      keepOuts: [],
      clearanceMm: CLEARANCE_MM,
      marginMm: MARGIN_MM,
    },
    boards: [],
    tunnel: tunnelOf(answers, followed),
    lens: lensOf(answers, followed),
    reading: READING,
    heat: { kind: 'rated' },
    ...(power && { cooling: startCooling(followed), power }),
  }
  const fill: FillOptions = {
    boardType: type.id,
    pattern: PATTERNS[answers.face],
    clearanceMm: CLEARANCE_MM,
    marginMm: MARGIN_MM,
    wanted: answers.boards,
    currentA: followed.currentA,
  }
  return { lamp, fill }
}

function opticsOf(answers: Answers, { opticDeg, exitMm: exitDiameterMm }: Followed): OpticType[] {
  if (answers.optic === 'bare') return [BARE]
  const collimator: OpticType = {
    kind: 'collimator',
    id: 'collimator',
    name: `Collimator ${Number(opticDeg.toFixed(1))}°, ${Number(exitDiameterMm.toFixed(1))} mm`,
    exitDiameterMm,
    heightMm: opticTopMm(answers),
    fwhmDeg: opticDeg,
    shape: 'gaussian',
    efficiency: 0.88,
  }
  return [collimator, BARE]
}

function tunnelOf(answers: Answers, followed: Followed): Tunnel | null {
  if (answers.tunnel === null) return null
  const zInMm = tunnelFromMm(answers)
  return {
    sides: SIDES[answers.face],
    inMm: followed.faceMm,
    outMm: mouthMm(answers, followed),
    zInMm,
    zOutMm: zInMm + followed.tunnelMm,
    ...finishFields(finishById(answers.tunnel)),
  }
}

function lensOf(answers: Answers, { focalMm, lensMm, lensZMm }: Followed): Lens | null {
  if (!answers.lens) return null
  return {
    kind: 'fresnel',
    zMm: lensZMm,
    focalMm,
    diameterMm: lensMm,
    aperture: answers.face === 'square' ? 'square' : 'round',
    thicknessMm: 3,
    pitchMm: 0.5,
    grooves: 'target',
    draftDeg: 3,
    tipShare: 0,
    material: 'pmma',
    designNm: 587.6,
  }
}

/** A wall as wide as the beam is about: behind a lens the array's own spread, else the optic's width. */
function targetOf(answers: Answers, { faceMm, focalMm, opticDeg }: Followed): Target {
  const arrayDeg = (2 * Math.atan(faceMm / (2 * focalMm)) * 180) / Math.PI
  const opticsDeg = answers.optic === 'bare' ? 120 : Math.min(opticDeg, 160)
  const halfDeg = (answers.lens ? arrayDeg : opticsDeg) / 2
  const wideM = Math.max(0.5, Math.round(4 * TARGET_M * Math.tan((halfDeg * Math.PI) / 180)) / 2)
  const coneHalfDeg = Math.max(0.5, Math.round(2 * halfDeg) / 2)
  return { name: 'Wall', distanceM: TARGET_M, widthM: wideM, heightM: wideM, coneHalfDeg }
}

/** Nothing but a face: what a lamp must have, and no boards, tunnel, lens, cooling or supply. */
export const emptyLamp = (name: string): Lamp =>
  beginLamp({
    ...FIRST_ANSWERS,
    ...{ name, boards: 1, perBoard: 1, optic: 'bare', tunnel: null, lens: false, supply: 'unsaid' },
    typed: { faceMm: 200 },
  }).lamp
