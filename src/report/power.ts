// The result of a mode in one line.
import type { ModeRun } from '../electrothermal/result.ts'

/** 9 s, 4 min, 3.2 h: two digits, the accuracy of the model. */
export function timeWords(seconds: number): string {
  const two = (x: number) => String(Number(x.toPrecision(2)))
  if (seconds < 100) return `${two(seconds)} s`
  if (seconds < 100 * 60) return `${two(seconds / 60)} min`
  return `${two(seconds / 3600)} h`
}

const degrees = (c: number) => `${Math.round(c)} °C`

export function modeWords(run: ModeRun): string {
  const { limit, steppedDown, steady, steadyAfter } = run
  const time = timeWords(limit.atS)
  const board = (index: number) => `board ${run.boards[index]?.id ?? index + 1}`
  const down = steppedDown
    ? `steps down to ${Math.round(100 * steppedDown.toShare)} % after ${timeWords(steppedDown.atS)}, `
    : ''
  const hot = `hottest junction ${degrees(maxOf(run.curves.junctionMaxC))}`
  const cool = run.coolHalfS === null ? '' : `; let it cool ${timeWords(run.coolHalfS)}, then half of its heat is gone`
  switch (limit.kind) {
    case 'junction': {
      const at = limit.boardIndex ?? run.hottestBoard
      if (limit.atS === 0) return `${run.name}: too hot at once: ${board(at)} is at its limit before the plate warms.`
      const c = degrees(run.curves.junctionMaxC[run.curves.junctionMaxC.length - 1]!)
      return `${run.name}: ${down}${time} until ${board(at)} reaches ${c}${cool}.`
    }
    case 'empty':
      return `${run.name}: ${down}${time} until the pack is empty, ${hot}.`
    case 'drivers':
      return limit.atS === 0
        ? `${run.name}: gives no light: the supply’s voltage does not suit the drivers.`
        : `${run.name}: ${down}${time} until the drivers let go, ${hot}.`
    case 'cells':
      return `${run.name}: ${down}${time} until the cells may be too warm, ${hot}.`
    case 'supply':
      return limit.atS === 0
        ? `${run.name}: more than the supply can give.`
        : `${run.name}: ${down}${time} until the supply gives way, ${hot}.`
    case 'steady': {
      const at = (steppedDown ? steadyAfter : steady)?.junctionMaxC
      const where = degrees(at ?? run.curves.junctionMaxC[run.curves.junctionMaxC.length - 1]!)
      return `${run.name}: ${down}runs on; its hottest junction settles at ${where}.`
    }
    case 'long':
      return `${run.name}: ${down}more than ${time}, ${hot}.`
  }
}

const maxOf = (x: Float64Array) => x.reduce((most, v) => Math.max(most, v), Number.NEGATIVE_INFINITY)
