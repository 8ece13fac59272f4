// The beam sheet, and what each part buys.

import type { Sheet } from '../../job/beam/sheet.ts'
import type { UnitSystem } from '../../num/unitSystem.ts'
import { DOUBT_NOTE } from '../doubt.ts'
import { PARTS_TITLE } from '../figures.ts'
import { floorWords } from '../floor.ts'
import { lightWords } from '../light.ts'
import {
  absentLines,
  figureRows,
  forwardBackwardRows,
  hotSpotRows,
  ledgerRows,
  PATTERNED_NOTE,
  RISK_HEAD,
  riskRows,
  sunRows,
  variantRows,
} from '../sheetRows.ts'
import { findingBlocks, heading, list, paragraph, table } from './blocks.ts'
import type { Block } from './model.ts'
import { profileFigure } from './profileFigure.ts'

export function beamBlocks(sheet: Sheet, system: UnitSystem): Block[] {
  const floor = sheet.hotSpots.front ? floorWords('front', sheet) : null
  const profile = profileFigure(sheet)
  return [
    paragraph(`${lightWords(sheet.light, system)}.`),
    table(figureRows(sheet, system), { head: ['Figure', 'value', '± at 95 %', 'unit'], right: [1, 2] }),
    paragraph(DOUBT_NOTE),
    ...(sheet.patterned ? [paragraph(PATTERNED_NOTE)] : []),
    ...(profile
      ? [
          {
            kind: 'figure',
            figure: profile,
            caption: 'Intensity over the angle from the axis, the mean round it; the band is ± at 95 %.',
          } satisfies Block,
        ]
      : []),
    ...titled('Where the light goes', ledgerRows(sheet.ledger), { right: [1, 2, 4, 6], sum: true }),
    ...titled('Hot spots', hotSpotRows(sheet, system), { right: [1, 2] }),
    ...(floor ? [paragraph(floor, true)] : []),
    ...titled('Sun falling in', sunRows(sheet, system), { right: [0, 1, 2] }),
    ...titled('What it would do to things in front of it', riskRows(sheet, system), { head: RISK_HEAD }),
    ...titled('Traced forward and backward', forwardBackwardRows(sheet), { right: [1, 2, 4, 5] }),
    ...titledList('Not given', absentLines(sheet)),
    heading('Findings'),
    ...findingBlocks(sheet.findings),
  ]
}

/** What would be missing without a part, and what each part takes of the light, where the ledger of the beam sheet doesn’t say it part by part. */
export const partsBuyBlocks = (sheet: Sheet): Block[] => [
  ...(sheet.variants.length > 0
    ? [
        paragraph('The same emitters traced without a part: the difference is what it adds.'),
        table(variantRows(sheet), {
          head: ['', 'axial intensity', '', '', 'flux out', '', '', 'beam angle', '', ''],
          right: [1, 2, 4, 5, 7, 8],
        }),
      ]
    : [paragraph('The lamp without its parts was not traced.')]),
  ...titled(PARTS_TITLE, sheet.parts?.length ? ledgerRows(sheet.parts) : [], { right: [1, 2, 4, 6], sum: true }),
]

const titled = (title: string, rows: string[][], how: Parameters<typeof table>[1]): Block[] =>
  rows.length === 0 ? [] : [heading(title), table(rows, how)]

const titledList = (title: string, items: readonly string[]): Block[] =>
  items.length === 0 ? [] : [heading(title), list(items)]
