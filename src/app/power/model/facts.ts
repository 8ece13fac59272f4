// The results of a mode as rows of text: what limits it first, and when.

import type { LimitKind, ModeRun } from '../../../electrothermal/result.ts'
import { roundedDown, roundedUp } from '../../../num/sided.ts'
import { leftOnWords, limitWords, protectionWords, reachedC } from '../../../report/power.ts'
import { degreesText, THIN, toDigits } from '../../common/format.ts'
import { runWords, waitWords } from '../../common/timeScale.ts'
import type { UnitSystem } from '../../common/unitSystem.ts'
import { valueText } from '../../common/units.ts'

const limitWordsOf = (celsius: (c: number) => string): Record<LimitKind, string> => ({
  off: 'nothing: it asks for no current',
  cutOut: 'the thermal cut-out opens and stays open',
  cycles: 'the thermal cut-out opens and closes over and over',
  junction: 'a junction at its limit',
  beyond: `the plate passes ${celsius(400)}, where the model ends`,
  empty: 'the pack is empty',
  drivers: 'the drivers switch off',
  cells: 'the cells are too warm',
  supply: 'more than the supply can give',
  steady: 'nothing: it settles',
  long: 'nothing for as long as was looked at',
})

const ENDLESS: readonly LimitKind[] = ['off', 'steady', 'long', 'cycles']
const isEndless = (kind: LimitKind): boolean => ENDLESS.includes(kind)

export interface Fact {
  name: string
  value: string
  /** Definition of the value. */
  how?: string
}

export function factsOf(run: ModeRun, boardName: (index: number) => string, system: UnitSystem = 'metric'): Fact[] {
  const { limit, steppedDown, steady, steadyAfter } = run
  const where = limit.boardIndex === null ? '' : `, board ${boardName(limit.boardIndex)}`
  const first = run.limits[0] ?? null
  const firstS = first?.atS ?? (isEndless(limit.kind) ? null : limit.atS)
  const celsius = (c: number) => degreesText(c, system)
  const inWords = (c: number) => valueText(c, '°C', system, 0)
  const ends = `${limitWordsOf(inWords)[limit.kind]}${where}`
  const left = leftOnWords(run, inWords)
  const facts: (Fact | null)[] = [
    { name: 'What limits first', value: first && !first.ends ? limitWords(first, inWords) : ends },
    firstS === null ? null : { name: 'Time to it', value: runWords(firstS) },
    first && !first.ends ? { name: 'What ends it', value: ends } : null,
    !first || first.ends || isEndless(limit.kind) ? null : { name: 'Time to its end', value: runWords(limit.atS) },
    steppedDown && {
      name: 'Steps down',
      value: `to ${Math.round(100 * steppedDown.toShare)}${THIN}% after ${runWords(steppedDown.atS)}`,
    },
    {
      name: 'Run time, FL 1',
      value: fl1Words(run),
      how: 'From switch-on until the light is a tenth of that at 30 s (ANSI/PLATO FL 1)',
    },
    run.sagsFromS === null
      ? null
      : {
          name: 'Light fades from',
          value: runWords(run.sagsFromS),
          how: 'The first driver can no longer hold its current',
        },
    { name: 'Taken from the supply', value: `${toDigits(run.energyWh)}${THIN}Wh` },
    {
      name: 'Most current, least voltage',
      value: `${toDigits(roundedUp(run.mostA))}${THIN}A, ${toDigits(roundedDown(run.leastV))}${THIN}V`,
      how: 'In this run; the worst at any charge and temperature stands with the wiring',
    },
    {
      name: 'Would settle at',
      value: steady
        ? `${celsius(reachedC(steady.junctionMaxC))}${steady.bearable ? '' : ', over the limit'}`
        : unsettled(run, inWords),
      how: 'Hottest junction if the supply never ran empty',
    },
    left === null
      ? null
      : {
          name: 'Left on',
          value: left,
          how: 'A full pack, the protection failed; nobody switches it off at its limit',
        },
    ...protectionFacts(run, inWords),
    steadyAfter && {
      name: 'After stepping down at',
      value: `${celsius(reachedC(steadyAfter.junctionMaxC))}${steadyAfter.bearable ? '' : ', over the limit'}`,
    },
    run.coolHalfS === null
      ? null
      : {
          name: 'Half cooled after',
          value: waitWords(run.coolHalfS),
          how: 'Switched off at the end: half of the plate’s rise is gone',
        },
  ]
  return facts.filter((f) => f !== null)
}

const unsettled = ({ protection }: ModeRun, celsius: (c: number) => string): string =>
  `${protection === null ? '' : 'never: the cut-out opens before, or '}over ${celsius(400)}`

function protectionFacts(run: ModeRun, celsius: (c: number) => string): Fact[] {
  const { protection, unprotected } = run
  const facts = protectionWords(run).map((value) => ({ name: 'Protection', value }))
  if (!protection || !unprotected) return facts
  const failed = unprotected.limit
  return [
    ...facts,
    {
      name: 'With the protection failed',
      value: `${limitWordsOf(celsius)[failed.kind]}${isEndless(failed.kind) ? '' : ` after ${runWords(failed.atS)}`}`,
      how: 'Heat is judged by this run',
    },
  ]
}

function fl1Words(run: ModeRun): string {
  if (run.fl1S !== null) return runWords(run.fl1S)
  if (run.lmAt30S === null) return 'none: ends before 30 s'
  return isEndless(run.limit.kind) ? 'no end in sight' : 'none: ends before that, with light'
}
