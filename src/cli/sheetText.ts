// The beam sheet as a page of text.

import { cautionsFor } from '../checks/cautions.ts'
import {
  ASKED_FOR,
  FIGURE_NAMES,
  type Figure,
  type FigureName,
  type HotSpot,
  type HotSpotName,
  type Sheet,
} from '../job/beam/sheet.ts'
import type { Lamp } from '../lamp/schema.ts'
import { T95 } from '../num/stats.ts'
import {
  engineWords,
  FIGURE_WORDS,
  HOT_SPOT_WORDS,
  hotSpotWords,
  LANDS_WORDS,
  PARTS_TITLE,
  variantWords,
} from '../report/figures.ts'
import { floorWords } from '../report/floor.ts'
import { lightWords } from '../report/light.ts'
import { findingsText } from './findingsText.ts'
import { columns, duration, fixed, short, whole, withError, wrapped } from './format.ts'
import { stripControls } from './io.ts'
import { sheetJson } from './sheetJson.ts'

const WIDTH = 96

export function sheetText(sheet: Sheet, lamp: Lamp): string {
  const parts = [
    head(sheet),
    section('Beam', figureLines(sheet)),
    section('Where the light goes', ledgerLines(sheet.ledger)),
    section(PARTS_TITLE, sheet.parts?.length ? ledgerLines(sheet.parts) : []),
    section('Hot spots', hotSpotLines(sheet)),
    section('Sun falling in', sunLines(sheet)),
    section('What it would do to things in front of it', riskLines(sheet)),
    section('What each part buys', variantLines(sheet)),
    section('Not given', absentLines(sheet)),
    `Findings\n${findingsText(sheet.findings)}`,
    section('Cautions', cautionLines(lamp)),
  ]
  return `${parts.filter((p) => p !== '').join('\n\n')}\n`
}

const section = (title: string, lines: readonly string[]): string =>
  lines.length === 0 ? '' : [title, ...lines.map((line) => `  ${line}`)].join('\n')

function head(s: Sheet): string {
  const speed = `${whole(s.raysPerSecond)} rays/s`
  const threads = s.threads === 1 ? '1 thread' : `${s.threads} threads`
  const run = `${whole(s.rays)} rays, seed ${s.seed}, ${threads}, ${duration(s.seconds)} (${speed}); ± is at 95 %`
  // The reason for the processor is only printed when another engine was requested.
  const engine =
    s.engineWhy === ASKED_FOR
      ? []
      : [wrapped(`${engineWords(s.engine).name}: ${stripControls(s.engineWhy)}`, WIDTH, '  ')]
  return [stripControls(s.lamp), run, ...engine].join('\n')
}

const unitText = (name: FigureName): string => {
  const { unit } = FIGURE_WORDS[name]
  return unit === 'deg' ? '°' : unit
}

/** The beam angle of a patterned beam can jump from ring to ring: the cones of half and nine tenths of the light come first. */
function figureOrder({ patterned }: Sheet): readonly FigureName[] {
  const late: readonly FigureName[] = patterned ? ['beamAngleDeg', 'fieldAngleDeg'] : []
  const order = FIGURE_NAMES.filter((name) => !late.includes(name))
  return late.length > 0 ? order.toSpliced(order.indexOf('ninetyFluxAngleDeg') + 1, 0, ...late) : order
}

function figureLines(s: Sheet): string[] {
  const rows = figureOrder(s).flatMap((name) => {
    const figure = s.figures[name]
    if (!figure) return []
    const { value, error } = withError(figure, FIGURE_WORDS[name].unit === '%' ? 100 : 1)
    return [[FIGURE_WORDS[name].name, value, error, unitText(name)]]
  })
  const lines = [wrapped(`${stripControls(lightWords(s.light))}.`, WIDTH - 2, '    '), ...columns(rows, [1, 2])]
  lines.push(...FIGURE_NAMES.flatMap((name) => (s.figures[name] ? floorLine(FIGURE_WORDS[name].name, name, s) : [])))
  if (s.forwardBackward.length > 0) lines.push('', 'Traced forward and backward:', ...forwardBackwardLines(s))
  if (s.patterned)
    lines.push(
      wrapped(
        'The beam is patterned: it falls through half or a tenth of its peak more than once, so beam and field angle can jump from ring to ring. The half-flux angle comes first.',
        WIDTH - 2,
        '    ',
      ),
    )
  return lines
}

function floorLine(words: string, name: FigureName | HotSpotName, s: Sheet): string[] {
  const floor = floorWords(name, s)
  return floor ? [`${words}: ${floor}`] : []
}

function forwardBackwardLines(s: Sheet): string[] {
  const words = (f: Figure) => [withError(f).value, withError(f).error]
  const rows = s.forwardBackward.map(({ figure, thetaDeg, forward, backward, apart }) => [
    figure === 'profileCd' ? `Profile at ${fixed(thetaDeg ?? 0, 2)}°` : FIGURE_WORDS[figure].name,
    ...words(forward),
    'forward',
    ...words(backward),
    'backward',
    `${figure === 'profileCd' ? 'cd' : unitText(figure)}, ${apart.toFixed(1)} standard errors apart`,
  ])
  return columns(rows, [1, 2, 4, 5])
}

function ledgerLines(ledger: Sheet['ledger']): string[] {
  const row = (name: string, share: number, error: string, lm: number, w: number) => [
    name,
    fixed(share * 100, 3),
    error,
    '%',
    whole(lm),
    'lm',
    fixed(w, 2),
    'W',
  ]
  const rows = ledger
    .filter(({ share }) => share.value !== 0 || share.se > 0)
    .map(({ name, share, lm, w }) => row(name, share.value, shareError(share), lm, w))
  const sum = (pick: (l: Sheet['ledger'][number]) => number) => ledger.reduce((total, l) => total + pick(l), 0)
  const last = row(
    'Sum',
    sum((l) => l.share.value),
    '',
    sum((l) => l.lm),
    sum((l) => l.w),
  )
  return columns([...rows, last], [1, 2, 4, 6])
}

function shareError({ value, se }: Figure): string {
  const half = 100 * T95 * se
  if (half <= 1e-7 * value) return 'exact'
  return half < 0.0005 ? '< 0.001' : `± ${fixed(half, 3)}`
}

function hotSpotLines(s: Sheet): string[] {
  const row = (name: string, spot: HotSpot): string[] => {
    const { value, error } = withError({ value: spot.kWm2, se: spot.se })
    const [x, y, z] = [whole(spot.xMm), whole(spot.yMm), whole(spot.zMm)]
    const where = `over a disc of ${short(spot.discMm)} mm at x ${x}, y ${y}, z ${z} mm`
    return [stripControls(name), value, error, 'kW/m²', where]
  }
  const rows = (Object.keys(HOT_SPOT_WORDS) as HotSpotName[]).flatMap((name) => {
    const spot = s.hotSpots[name]
    const others = name === 'lens' ? (s.elements ?? []) : []
    return [
      ...(spot ? [row(hotSpotWords(name, s).name, spot)] : []),
      ...others.flatMap((e) => (e.spot ? [row(e.name, e.spot)] : [])),
    ]
  })
  return [...columns(rows, [1, 2]), ...(s.hotSpots.front ? floorLine(HOT_SPOT_WORDS.front.name, 'front', s) : [])]
}

const sunLines = (s: Sheet): string[] =>
  columns(
    s.sun.map((at) => {
      const { value, error } = withError({ value: at.kWm2, se: at.se })
      return [`${short(at.tiltDeg)}°`, value, error, 'kW/m²', LANDS_WORDS[at.lands], `z ${whole(at.zMm)} mm`]
    }),
    [0, 1, 2],
  )

function riskLines(s: Sheet): string[] {
  const rows = s.risks.map((r) => [
    r.material,
    `${short(r.criticalKWm2)} kW/m²`,
    r.secondsAtWorst === null ? 'stays below it' : `${duration(r.secondsAtWorst)} at the worst place`,
    r.clearDistanceMm > 0 ? `keep ${short(r.clearDistanceMm / 1000)} m clear` : '',
  ])
  return rows.length === 0 ? [] : columns([['Material', 'critical', 'then', ''], ...rows])
}

function variantLines(s: Sheet): string[] {
  const names = ['axialIntensityCd', 'fluxOutLm', 'beamAngleDeg'] as const
  const rows = s.variants.map((v) => [
    variantWords(v.name, v.leftOut),
    ...names.flatMap((name) => {
      const f = v.figures[name]
      if (!f) return ['-', '', '']
      const { value, error } = withError(f)
      return [value, error, unitText(name)]
    }),
  ])
  return columns(rows, [1, 2, 4, 5, 7, 8])
}

const absentLines = (s: Sheet): string[] =>
  Object.entries(sheetJson(s, '').absent).map(([name, why]) => {
    const called = Object.hasOwn(FIGURE_WORDS, name)
      ? FIGURE_WORDS[name as FigureName].name
      : `Hot spot: ${spotInner(name as HotSpotName, s)}`
    return `${called}: ${stripControls(why)}`
  })

/** Within a line: an element's own name is left as it is. */
const spotInner = (name: HotSpotName, s: Sheet): string => {
  const words = hotSpotWords(name, s)
  return words === HOT_SPOT_WORDS[name] ? words.name.toLowerCase() : stripControls(words.name)
}

const cautionLines = (lamp: Lamp): string[] => cautionsFor(lamp).map(({ text }) => wrapped(text, WIDTH, '    '))
