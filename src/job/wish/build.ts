// A whole lamp from its answers and its cooling: boards on the face, target, modes that step down before the metal burns.
import { LIMITS } from '../../lamp/limits.ts'
import type { Cooling, Lamp, Mode } from '../../lamp/schema.ts'
import { fillFace } from '../../layout/fill.ts'
import { airOf, type FanRow, fansAlong } from '../../library/typicalFans.ts'
import type { Answers } from '../start/answers.ts'
import { beginLamp } from '../start/lamp.ts'
import type { Wish } from './wish.ts'

/** How much is done against the heat: the least first, without a fan before with one. */
export interface CoolingStep {
  finsMm: number
  plateMm: number
  /** Face, as a multiple of what the boards need. */
  face: number
  fan: boolean
}

export const COOLING_STEPS: readonly CoolingStep[] = [
  { finsMm: 25, plateMm: 6, face: 1, fan: false },
  { finsMm: 60, plateMm: 8, face: 1, fan: false },
  { finsMm: 60, plateMm: 8, face: 1.5, fan: false },
  { finsMm: 60, plateMm: 10, face: 2.2, fan: false },
  { finsMm: 100, plateMm: 12, face: 3, fan: false },
  { finsMm: 40, plateMm: 5, face: 1, fan: true },
  { finsMm: 60, plateMm: 6, face: 1, fan: true },
  { finsMm: 60, plateMm: 8, face: 1.2, fan: true },
  { finsMm: 92, plateMm: 8, face: 1.5, fan: true },
  { finsMm: 60, plateMm: 12, face: 2.2, fan: true },
  { finsMm: 120, plateMm: 15, face: 3, fan: true },
  { finsMm: 60, plateMm: 15, face: 5, fan: true },
]

const FIN = { thicknessMm: 2, spacingMm: 8 }

function coolingFor({ finsMm, plateMm }: CoolingStep, faceMm: number, fans: FanRow | null): Cooling {
  const count = Math.max(1, Math.floor((faceMm + FIN.spacingMm) / (FIN.thicknessMm + FIN.spacingMm)))
  return {
    plate: { thicknessMm: plateMm, metal: 'aluminium-6063' },
    sink: { kind: 'fins', count, heightMm: finsMm, ...FIN },
    air: fans ? airOf(fans) : { kind: 'still' },
    finish: 'anodised',
    aim: 'level',
  }
}

export interface Built {
  lamp: Lamp
  /** Typical ones, which the parts list knows no mass of; null: none. */
  fans: FanRow | null
}

/** The lamp with its boards on the least face, its cooling not chosen yet; null where they don't fit. */
export function boardLamp(answers: Answers): Lamp | null {
  const { lamp, fill } = beginLamp(answers)
  const { boards, didNotFit } = fillFace(lamp, fill)
  return didNotFit > 0 ? null : { ...lamp, boards }
}

/**
 * A lamp with its boards made for the wish and cooled; null where the face would be too large for a lamp. A face that the heat makes larger than the boards need
 * leaves boards and optics where they are.
 */
export function buildLamp(wish: Wish, lamp: Lamp, step: CoolingStep): Built | null {
  const { power } = lamp
  const sizeMm = step.face === 1 ? lamp.face.sizeMm : Math.ceil((step.face * lamp.face.sizeMm) / 5) * 5
  if (sizeMm > LIMITS.faceMm) return null
  const fans = step.fan ? fansAlong(sizeMm, step.finsMm) : null
  const whole: Lamp = {
    ...lamp,
    name: wish.name ? `${wish.name}: ${lamp.name}` : lamp.name,
    face: { ...lamp.face, sizeMm },
    target: targetOf(wish, lamp),
    cooling: coolingFor(step, sizeMm, fans),
    ...(power && { power: { ...power, modes: power.modes.map(steppingDown) } }),
  }
  return { lamp: whole, fans }
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
