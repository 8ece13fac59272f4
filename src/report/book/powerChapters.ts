// Heat and modes, wiring, the list of the first power-up.

import { counted } from '../../checks/words.ts'
import type { ModeRun, PowerReport, PowerUpItem } from '../../electrothermal/result.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { allInSystem } from '../../num/quantity.ts'
import type { UnitSystem } from '../../num/unitSystem.ts'
import { checkTable, sharedFigures } from '../checkTable.ts'
import { curveHead, curveRows, energyRows, heatHeadLines, modeLines } from '../heatRows.ts'
import {
  billCells,
  driverCells,
  GROUP_NOTE,
  groupRows,
  SWITCH_HEAD,
  shortWords,
  switchRows,
  WIRE_HEAD,
  WIRE_NOTE,
  wireCells,
} from '../wiringCells.ts'
import { billOfMaterials, type Remark, remarksOn, remarkWords, wiringRows } from '../wiringTable.ts'
import { worstRows } from '../worstTable.ts'
import { findingBlocks, heading, list, paragraph, paragraphs, table } from './blocks.ts'
import { curvesFigure } from './curvesFigure.ts'
import type { Block } from './model.ts'
import type { PowerResults } from './results.ts'
import { wiringFigure } from './wiringFigure.ts'

export function heatBlocks(lamp: Lamp, { report, findings }: PowerResults, system: UnitSystem): Block[] {
  if (lamp.boards.length === 0) return [paragraph('No board stands on the face: there is nothing to run.')]
  return [
    ...paragraphs(heatHeadLines(report, system)),
    ...report.modes.flatMap((m) => modeBlocks(lamp, m, report, system)),
    heading('Findings on heat and power'),
    ...findingBlocks(findings),
  ]
}

function modeBlocks(lamp: Lamp, mode: ModeRun, report: PowerReport, system: UnitSystem): Block[] {
  const curve = curveRows(mode, system)
  const figure = curvesFigure(mode, system)
  return [
    heading(mode.name),
    ...paragraphs(modeLines(lamp, mode, report.sink.rated, system)),
    ...(figure
      ? [
          {
            kind: 'figure',
            figure,
            caption: 'Hottest junction, hottest place of the plate, and light, from switch-on.',
          } satisfies Block,
        ]
      : []),
    ...(curve.length > 0 ? [table(curve, { head: curveHead(system), right: [0, 1, 2, 3, 4, 5, 6, 7] })] : []),
    table(energyRows(mode), { caption: 'Where the energy goes', right: [1, 3], sum: true }),
  ]
}

export function wiringBlocks(lamp: Lamp, { report, findings }: PowerResults, system: UnitSystem): Block[] {
  const power = powerOf(lamp).value
  const rows = wiringRows(report.wiring, power, findings)
  const flagged = new Set(rows.flatMap((r) => (r.remarks.some((x) => x.severity === 'severe') ? r.ids : [])))
  const figure = wiringFigure(report, flagged, system)
  const groups = groupRows(report)
  const listed = findings.filter((f) => f.parts)
  const worst = worstRows(report, system)
  return [
    paragraph(
      'Fuse every channel, and the battery at its own terminals. Local codes and licensed practice come first.',
    ),
    paragraph(
      `${counted(report.emitters, 'emitter')} on ${counted(report.channelCount, 'channel')}; supply: ${power.supply.name}.`,
    ),
    ...paragraphs(report.assumed.filter((s) => /supply/.test(s)).map((s) => `Taken as typical: ${s}`)),
    paragraph(shortWords(report)),
    ...(figure
      ? [
          {
            kind: 'figure',
            figure,
            caption: 'From the supply to the boards. Heavy frames: a severe finding, or no fuse.',
          } satisfies Block,
        ]
      : []),
    heading('Wires'),
    paragraph(WIRE_NOTE, true),
    table(
      rows.map((r) => wireCells(r, system)),
      { head: WIRE_HEAD, right: [0, 4, 5, 6, 7] },
    ),
    ...remarkBlocks(rows.map((r) => [r.ids.length > 1 ? `${r.ids[0]} …` : (r.ids[0] ?? ''), r.remarks])),
    heading('Drivers'),
    table(power.drivers.map(driverCells)),
    heading('Contactor, relay or switch in the main wire, for direct current'),
    table(switchRows(power.harness.contactor?.maxA ?? null, report), { head: SWITCH_HEAD, right: [1, 2, 3] }),
    ...remarkBlocks([['contactor', remarksOn(findings, [{ kind: 'contactor' }])]]),
    ...(groups.rows.length > 0
      ? [
          heading('Groups of boards'),
          paragraph(GROUP_NOTE, true),
          table(groups.rows, { head: groups.head, right: groups.head.map((_, i) => i).slice(1) }),
          ...remarkBlocks(report.groups.map((g) => [g.name, remarksOn(findings, [{ kind: 'relay', id: g.id }])])),
        ]
      : []),
    ...(worst.length > 0
      ? [
          heading('The worst of every mode, from full to cut-off, cold to hot'),
          table(
            worst.map((r) => [r.what, r.value, r.limit, r.where]),
            { head: ['', 'worst', 'bears', 'in'], right: [1, 2] },
          ),
        ]
      : []),
    heading('To buy, without spare; wire as single conductors'),
    table(
      billOfMaterials(report.wiring, power, findings, system).map((b) => billCells(b, system)),
      { right: [1] },
    ),
    ...(listed.length > 0 ? [heading('What was found about these parts'), ...findingBlocks(listed)] : []),
  ]
}

function remarkBlocks(of: readonly (readonly [string, readonly Remark[]])[]): Block[] {
  const lines = of.flatMap(([what, remarks]) => remarks.map((r) => `${what}: ${remarkWords(r)}`))
  return lines.length === 0 ? [] : [list(lines)]
}

/** Ticks are as the lamp's document has them. What every channel is checked for stands once; its figures stand in a table, channels down. */
export function powerUpBlocks(lamp: Lamp, { report: inBoth, findings }: PowerResults, system: UnitSystem): Block[] {
  const report = { ...inBoth, powerUp: allInSystem(inBoth.powerUp, system) }
  const ticked = new Set(lamp.powerUp?.done ?? [])
  const { steps, rows, meanings } = checkTable(report.powerUp)
  const remarks = (items: readonly PowerUpItem[]) => {
    const ids = items.flatMap(({ fuseOf }) => (fuseOf === null ? [] : [{ kind: 'fuse' as const, id: fuseOf }]))
    return [...new Set(remarksOn(findings, ids).map(remarkWords))]
  }
  const ofLamp = report.powerUp
    .filter((i) => i.channel === null)
    .map((i) => ({ text: `${i.step}: ${i.what}`, done: ticked.has(i.key), remarks: remarks([i]) }))
  const figures = sharedFigures(rows)
  const cell = (item: PowerUpItem | null, i: number) =>
    item ? `${ticked.has(item.key) ? '[x]' : '[  ]'} ${(figures[i] ?? null) === null ? item.short : ''}` : ''
  const shared = meanings.flatMap(({ step, sentences }) =>
    sentences.map(({ of, what }) => `${step}: ${of === '' ? '' : `${of}: `}${what}`),
  )
  // Where a check asks something else of many channels, each has its own sentence.
  const differing = meanings.filter((m) => m.sentences.length === 0).map((m) => m.step)
  const own = rows.flatMap(({ channel, items }) =>
    items.flatMap((i) => (i && differing.includes(i.step) ? [`${channel}, ${i.step}: ${i.what}`] : [])),
  )
  const found = remarks(report.powerUp.filter((i) => i.channel !== null))
  return [
    paragraph(
      'A short circuit of a battery burns and a beam blinds: one channel at a time, at low current first, eyes never in line with the lens. Local codes and licensed practice come first.',
    ),
    heading('The whole lamp'),
    { kind: 'checks', items: ofLamp },
    ...(rows.length > 0
      ? [
          heading('Each channel'),
          table(
            [
              ...(figures.some((f) => f) ? [['each', ...figures.map((f) => f ?? '')]] : []),
              ...rows.map(({ channel, items }) => [channel, ...items.map(cell)]),
            ],
            { head: ['Channel', ...steps] },
          ),
          heading('What each check asks'),
          list([...shared, ...own, ...found]),
        ]
      : []),
  ]
}
