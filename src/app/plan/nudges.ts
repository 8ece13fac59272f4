// How far the arrow keys move what is selected on the plan.
import { inEither } from '../../num/quantity.ts'
import { arrowStepMm, shownStep } from '../common/unitSystem.ts'
import { unitSystem } from '../store/unitSystem.ts'

export const NUDGES = [
  { mod: '', mm: 1 },
  { mod: 'shift+', mm: 10 },
  { mod: 'alt+', mm: 0.1 },
] as const
export const nudgeMm = (mm: number): number => arrowStepMm(mm, unitSystem())
export const nudgeWords = (mm: number): string => inEither(`${mm} mm`, `${shownStep(mm, 'mm', 'inch')} in`)
export const WAYS = [
  { key: 'arrowright', word: 'right', x: 1, y: 0 },
  { key: 'arrowleft', word: 'left', x: -1, y: 0 },
  { key: 'arrowup', word: 'up', x: 0, y: 1 },
  { key: 'arrowdown', word: 'down', x: 0, y: -1 },
] as const

/** How far the selected boards, or a new board's place, move by a chord, mm; null: it moves none. */
export function nudgeBy(chord: string): readonly [number, number] | null {
  const way = WAYS.find((w) => chord.endsWith(w.key))
  const step = NUDGES.find((n) => way && chord === `${n.mod}${way.key}`)
  return way && step ? [way.x * nudgeMm(step.mm), way.y * nudgeMm(step.mm)] : null
}
