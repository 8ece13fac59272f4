// constants.as, written from the tables of src/optics: npm run wasm.
import * as E from '../emitterRow.ts'
import * as D from '../firstDraws.ts'
import * as GROOVES from '../grooveStates.ts'
import * as K from '../kindRow.ts'
import * as P from '../params.ts'
import { BY_RAYS, ROW_ALIAS, ROW_DX, ROW_NM, ROW_SHARE, ROW_SIZE, ROW_X } from '../rayTable.ts'
import * as R from '../records.ts'
import * as G from '../ringRow.ts'

const MADE = '// Written by npm run wasm from the tables of src. Not to be edited.'

/** Whole numbers by name, the names of each group with its mark before them. */
export function constantsOf(groups: readonly (readonly [mark: string, numbers: Record<string, number>])[]): string {
  const lines = groups.flatMap(([mark, numbers]) =>
    Object.keys(numbers)
      .sort()
      .map((name) => `export const ${mark}${name}: i32 = ${numbers[name]}`),
  )
  return `${lines.join('\n')}\n`
}

/** Those of src/optics, for every kernel. */
export const opticsConstants = (): string =>
  `${MADE}\n${constantsOf([
    ['', R],
    ['', D],
    ['P_', P],
    ['E_', E],
    ['K_', K],
    ['G_', G],
    ['S_', GROOVES],
    ['R_', { BY_RAYS, ROW_ALIAS, ROW_DX, ROW_NM, ROW_SHARE, ROW_SIZE, ROW_X }],
  ])}`

/** A kernel's own, and behind them all of those above. */
export const withOptics = (own: string): string => `${MADE}\nexport * from '../../../optics/wasm/constants'\n${own}`
