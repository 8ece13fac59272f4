// The parts list, and the order of assembly with its checks.

import { assemblyOrder } from '../../bill/assemblyOrder.ts'
import { partsList } from '../../bill/partsList.ts'
import type { PowerUpItem } from '../../electrothermal/result.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { UnitSystem } from '../../num/unitSystem.ts'
import { assemblyWords } from '../assembly.ts'
import {
  amountWords,
  massOf,
  moneyWords,
  noteSentences,
  partWords,
  STEP_TITLES,
  sizeWords,
  sumSentences,
} from '../partsTable.ts'
import { heading, list, paragraph, paragraphs, table } from './blocks.ts'
import type { Block } from './model.ts'

const HEAD = ['Step', 'part', 'amount', 'size', 'material', 'mass, all']

export function partsBlocks(lamp: Lamp, system: UnitSystem = 'metric'): Block[] {
  const of = partsList(lamp)
  const isPriced = of.parts.some((p) => p.cost !== null)
  const rows = of.parts.map((p, i) => [
    p.step === of.parts[i - 1]?.step ? '' : STEP_TITLES[p.step],
    `${partWords(p)}${p.assumed ? ' (typical)' : ''}`,
    amountWords(p, system),
    sizeWords(p.size, system),
    p.material ?? '',
    massOf(p, system),
    ...(isPriced ? [p.cost === null ? '' : moneyWords(p.cost, of.cost.currency)] : []),
  ])
  return rows.length === 0
    ? []
    : [
        table(rows, { head: isPriced ? [...HEAD, 'cost'] : HEAD, right: [2, 6] }),
        ...paragraphs([...sumSentences(of, system), ...noteSentences(of, system)]),
      ]
}

/** `powerUp`: the list of the first power-up; its items stand in the step that they are done in. */
export function assemblyBlocks(lamp: Lamp, powerUp: readonly PowerUpItem[], system: UnitSystem = 'metric'): Block[] {
  const of = partsList(lamp)
  return assemblyWords(lamp, assemblyOrder(lamp, of), of, powerUp, system).flatMap(
    ({ title, text, parts, checks, cautions }, i): Block[] => [
      heading(`${i + 1}. ${title}`),
      ...cautions.map((c): Block => ({ kind: 'note', severity: 'warning', title: c, lines: [] })),
      paragraph(text),
      ...(parts.length > 0 ? [list(parts)] : []),
      ...(checks.length > 0 ? [{ kind: 'checks', items: checks } satisfies Block] : []),
    ],
  )
}
