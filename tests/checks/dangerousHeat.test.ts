// Lamps that would burn something once they have run for a while: each gives its finding among the findings' data and in the terminal's text.
// Those that the table of worst cases knows without a run are in dangerousPower.test.ts.
import { describe, expect, test } from 'vitest'
import { findingsText } from '../../src/cli/findingsText.ts'
import { powerFindings, runPower } from '../../src/job/power/run.ts'
import type { Cooling, Lamp, Pack } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { lampWith } from '../kit/lampWith.ts'

/** Three boards of the example on a plate, all on, to the end. */
function base(over: Partial<Cooling> = {}, pack: Partial<Pack> = {}): Lamp {
  const lamp = gannetHead()
  const supply = { ...(lamp.power!.supply as Pack), ...pack }
  return lampWith(
    {
      boards: lamp.boards.slice(0, 3),
      cooling: { ...lamp.cooling!, ...over },
      power: { supply, modes: [{ id: 'turbo', name: 'Turbo', share: 1, stepDown: null }] },
    },
    lamp,
  )
}
const bare: Partial<Cooling> = { sink: { kind: 'none' }, plate: { thicknessMm: 3, metal: 'aluminium-6061' } }

const LAMPS: readonly (readonly [string, () => Lamp, string, 'severe' | 'warning', RegExp])[] = [
  [
    'six amperes in three boards on a plate of 3 mm without fins',
    () => base(bare),
    'junction-over-limit',
    'severe',
    /^“Turbo”: after [\d.]+ (s|min) the emitters of board B\d reach their limit, 140 °C\.$/,
  ],
  [
    'the same: plastic optics stand on it',
    () => base(bare),
    'optics-over-hot-face',
    'severe',
    /^The face passes the 70 °C that plastic optics on it bear in “Turbo” after /,
  ],
  [
    'the same: a hand on it',
    () => base(bare),
    'touch-hot',
    'severe',
    /^Plate and sink get to 1\d\d °C in “Turbo”, left on past its limit to \d{3} °C: a touch/,
  ],
  [
    'one row of worn cells for all of it',
    () => base({}, { parallel: 1, cellMilliohm: 150 }),
    'cells-hot',
    'severe',
    /the cells reach their 60 °C after /,
  ],
  ['a pack of 650 Wh', () => base(), 'pack-fire', 'warning', /^The pack holds 6\d\d Wh/],
  [
    'a fan without pressure before the fins',
    () => base({ air: { kind: 'fan', curve: [0, 40].map((flowM3h) => ({ flowM3h, pascal: 0 })) } }),
    'fan-idle',
    'warning',
    /^The fan drives (no|hardly any) air through the sink/,
  ],
  [
    'forty fins where half of them find room',
    () => base({ sink: { kind: 'fins', count: 40, heightMm: 40, thicknessMm: 2, spacingMm: 9 } }),
    'fins-past-face',
    'warning',
    /^\d+ fins of 40 find no room/,
  ],
  [
    'a plate that nobody should lift alone',
    () => base({ plate: { thicknessMm: 100, metal: 'copper' } }),
    'weight',
    'warning',
    /^Plate.*: [\d.]+ kg\./,
  ],
]

describe('each dangerous lamp gives its finding, as data and in words', () => {
  test.each(LAMPS)('%s', (_, make, rule, severity, title) => {
    const lamp = make()
    const findings = powerFindings(lamp, runPower(lamp))
    const own = findings.find((f) => f.rule === rule)
    expect(own?.title ?? findings.map((f) => `${f.rule}: ${f.title}`), rule).toMatch(title)
    expect(own!.severity).toBe(severity)
    expect(findingsText(findings).replace(/\s+/g, ' ')).toContain(own!.title)
  })
})
