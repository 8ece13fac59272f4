// A whole lamp from its answers and its cooling: boards on the face, target, modes that step down before the metal burns.
import type { Cooling, Lamp, Mode } from '../../lamp/schema.ts'
import { fillFace } from '../../layout/fill.ts'
import type { Answers } from '../start/answers.ts'
import { beginLamp } from '../start/lamp.ts'
import { follow } from '../start/light.ts'
import type { Wish } from './wish.ts'

/** How much is done against the heat: the lightest first. */
export interface CoolingStep {
  finsMm: number
  plateMm: number
  /** Face, as a multiple of what the boards need. */
  face: number
  /** Between the fins; 0: still air. */
  airMS: number
}

export const COOLING_STEPS: readonly CoolingStep[] = [
  { finsMm: 25, plateMm: 6, face: 1, airMS: 0 },
  { finsMm: 60, plateMm: 8, face: 1, airMS: 0 },
  { finsMm: 60, plateMm: 8, face: 1.5, airMS: 0 },
  { finsMm: 60, plateMm: 10, face: 2.2, airMS: 0 },
  { finsMm: 100, plateMm: 12, face: 3, airMS: 0 },
  { finsMm: 60, plateMm: 8, face: 1.2, airMS: 2 },
  { finsMm: 60, plateMm: 12, face: 2.2, airMS: 2 },
  { finsMm: 100, plateMm: 15, face: 3, airMS: 3 },
  { finsMm: 60, plateMm: 15, face: 5, airMS: 3 },
]

const FIN = { thicknessMm: 2, spacingMm: 8 }

function coolingFor({ finsMm, plateMm, airMS }: CoolingStep, faceMm: number): Cooling {
  const count = Math.max(1, Math.floor((faceMm + FIN.spacingMm) / (FIN.thicknessMm + FIN.spacingMm)))
  return {
    plate: { thicknessMm: plateMm, metal: 'aluminium-6063' },
    sink: { kind: 'fins', count, heightMm: finsMm, ...FIN },
    air: airMS > 0 ? { kind: 'moved', speedMS: airMS } : { kind: 'still' },
    finish: 'anodised',
    aim: 'level',
  }
}

/** A face that the heat makes larger than the boards need leaves the optics as they are. */
function withFace(answers: Answers, { face }: CoolingStep): Answers {
  if (face === 1) return answers
  const now = follow(answers)
  const faceMm = Math.ceil((face * now.faceMm) / 5) * 5
  const { opticDeg, focalMm, lensMm, lensZMm, tunnelMm } = now
  return { ...answers, typed: { ...answers.typed, opticDeg, focalMm, lensMm, lensZMm, tunnelMm, faceMm } }
}

/** Null where the boards don't fit on the face. */
export function buildLamp(wish: Wish, answers: Answers, step: CoolingStep): Lamp | null {
  const wide = withFace(answers, step)
  const { lamp, fill } = beginLamp(wide)
  const { boards, didNotFit } = fillFace(lamp, fill)
  if (didNotFit > 0) return null
  const { power } = lamp
  return {
    ...lamp,
    boards,
    name: wish.name ? `${wish.name}: ${lamp.name}` : lamp.name,
    target: targetOf(wish, lamp),
    cooling: coolingFor(step, lamp.face.sizeMm),
    ...(power && { power: { ...power, modes: power.modes.map(steppingDown) } }),
  }
}

/** The middle mode too: a small plate gets as hot by a third of the light, in time. */
const steppingDown = (mode: Mode): Mode =>
  mode.id === 'middle' ? { ...mode, stepDown: { watch: 'plate', atC: 60, toShare: 0.1 } } : mode

function targetOf({ distanceM, sizeM }: Wish, { target }: Lamp): Lamp['target'] {
  if (distanceM === undefined) return target
  const wideM = sizeM ?? (target.widthM * distanceM) / target.distanceM
  const coneHalfDeg = Math.min(80, Math.max(target.coneHalfDeg, (Math.atan(wideM / distanceM) * 180) / Math.PI))
  return { name: 'Target', distanceM, widthM: wideM, heightM: wideM, coneHalfDeg }
}
