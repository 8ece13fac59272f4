// Every sentence in the builder's units. In inches nothing metric is left, but for what standards name, threads, gauges beside their AWG number, and
// names and sources that the document or a library states.
import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { assemblyOrder } from '../../src/bill/assemblyOrder.ts'
import { partsList } from '../../src/bill/partsList.ts'
import { checkDesign, checkSheet } from '../../src/checks/check.ts'
import { type Finding, findingsIn } from '../../src/checks/finding.ts'
import { drawSheet, listSheets } from '../../src/drawing/sheets.ts'
import { readLampText } from '../../src/lamp/read.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { allInSystem, hasBoth, temperatureText } from '../../src/num/quantity.ts'
import { assemblyWords } from '../../src/report/assembly.ts'
import { dangerSheetHtml } from '../../src/report/dangerPage.ts'
import { partsHtml } from '../../src/report/partsPage.ts'
import { fakeBook, fakeResults } from '../kit/fakeBook.ts'
import { fakeDanger } from '../kit/fakeDanger.ts'
import { fakeSheet } from '../kit/fakeSheet.ts'

const FOLDER = 'public/examples'
const EXAMPLES = readdirSync(FOLDER).filter((f) => f.endsWith('.lamp.json'))

function lampOf(file: string): Lamp {
  const read = readLampText(readFileSync(`${FOLDER}/${file}`, 'utf8'))
  if (!read.ok) throw new Error(read.why.join(' '))
  return read.lamp
}

/** What may stay: distances of IEC 62471 and its pupil, the check bar in both units, AWG with its mm², styles of a printed page. */
const ALLOWED = [
  /200 mm \(7\.9 in\)/g,
  /pupil of 7 mm/g,
  /\(\d+(\.\d+)? mm²\)/g,
  /<style>.*?<\/style>/gs,
  /\d+(\.\d+)?mm/g,
]
const METRIC = /\d[\u00a0\u202f ](mm²?|cm²?|m|km|kg|g|°C|K)(?![\w/·²])|°C/

function metricLeft(texts: readonly string[], lamp: Lamp): string[] {
  const names = stringsIn(lamp).filter((s) => METRIC.test(s))
  return texts.flatMap((text) => {
    let bare = text
    for (const name of names) bare = bare.replaceAll(name, '')
    for (const allowed of ALLOWED) bare = bare.replace(allowed, '')
    return METRIC.test(bare) || hasBoth(text) ? [text.slice(0, 300)] : []
  })
}

/** In place of the kit's, which is metric. */
const LIGHT = `“Full”, cold start at ${temperatureText('−20', -20)}`

/** All texts in a structure. */
function stringsIn(value: unknown): string[] {
  if (typeof value === 'string') return [value]
  if (Array.isArray(value)) return value.flatMap(stringsIn)
  return value !== null && typeof value === 'object' && !ArrayBuffer.isView(value)
    ? Object.values(value).flatMap(stringsIn)
    : []
}

/** A reason ends in its source, which quotes values as they were published; what rules write themselves is read below. */
const sentences = (findings: readonly Finding[]) =>
  findingsIn(findings, 'inch').flatMap(({ title, cure }) => [title, cure])

describe.each(EXAMPLES)('%s in inches', (file) => {
  const lamp = lampOf(file)
  const results = fakeResults(lamp)

  test('findings', () => {
    const found = [
      ...checkDesign(lamp),
      ...checkSheet(lamp, fakeSheet(lamp)),
      ...fakeDanger(lamp).findings,
      ...(results.power?.findings ?? []),
    ]
    expect(found.length).toBeGreaterThan(0)
    expect(metricLeft(sentences(found), lamp)).toEqual([])
    expect(found.flatMap(({ title, why, cure }) => [title, why, cure]).filter(hasBoth)).toEqual([])
  })

  test('book', () => {
    const { sheet, danger, power } = results
    // Findings are read above; those of the kit are invented, and metric.
    const bare = {
      sheet: sheet && { ...sheet, findings: [] },
      danger: danger && { ...danger, light: LIGHT, findings: [] },
      power: power && { ...power, findings: [] },
    }
    const { lampText, chapters, ...rest } = fakeBook(lamp, { system: 'inch' }, bare)
    const read = chapters.filter((c) => c.id !== 'sources')
    expect(metricLeft(stringsIn({ read, rest }), lamp)).toEqual([])
    expect(stringsIn(fakeBook(lamp, {}, results)).filter(hasBoth)).toEqual([])
  })

  test('danger sheet, parts list, order of assembly, drawings', () => {
    const list = partsList(lamp)
    const powerUp = results.power?.report.powerUp ?? []
    const order = assemblyWords(lamp, assemblyOrder(lamp, list), list, powerUp, 'inch')
    const drawn = listSheets(lamp, 'inch').map((s) =>
      s.ok ? drawSheet(lamp, s.name, { date: '', hash: '', withKerf: true, system: 'inch' }) : s,
    )
    const texts = [
      dangerSheetHtml({ ...fakeDanger(lamp), light: LIGHT, findings: [] }, lamp, [], 'inch'),
      partsHtml(list, order, 'inch'),
    ]
    expect(metricLeft([...texts.flatMap((t) => t.split('\n')), ...stringsIn(drawn)], lamp)).toEqual([])
    expect(stringsIn(allInSystem(order, 'metric')).filter(hasBoth)).toEqual([])
  })
})

test('no rule writes a metric unit by itself, whatever lamp it is about', () => {
  const files = readdirSync('src/checks', { recursive: true, encoding: 'utf8' }).filter((f) =>
    /(?<!\bwords)\.ts$/.test(f),
  )
  const found = files.flatMap((file) =>
    readFileSync(`src/checks/${file}`, 'utf8')
      .split('\n')
      .filter((line) => !/^\s*(\/\/|\*|\/\*)/.test(line) && !/standardMm|, '°C'\)/.test(line))
      .flatMap((line) => (/[}\d] (mm²?|cm²|m|kg|°C)(?![\w/²·])|°C/.test(line) ? [`${file}: ${line.trim()}`] : [])),
  )
  expect(found).toEqual([])
})
