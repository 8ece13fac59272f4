import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { closingText } from '../../../src/app/sheet/Ledger.tsx'
import { EmptyFace, SheetBody } from '../../../src/app/sheet/SheetColumn.tsx'
import { StateLine } from '../../../src/app/sheet/StateLine.tsx'
import { CAUTIONS } from '../../../src/checks/cautions.ts'
import { FIGURE_NAMES, type Sheet } from '../../../src/job/beam/sheet.ts'
import { DEMOS, gannetHead, stileLamp } from '../../../src/library/demos.ts'
import { FIGURE_WORDS } from '../../../src/report/figures.ts'
import { type FakeState, fakeSheet } from '../../kit/fakeSheet.ts'

const html = (sheet: Sheet, state: 'rough' | 'settled' | 'old' = 'settled') =>
  renderToStaticMarkup(<SheetBody sheet={sheet} state={state} widthPx={340} />)
const words = (markup: string) => markup.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ')

describe.each(Object.keys(DEMOS))('the sheet of %s', (name) => {
  test.each<FakeState>(['rough', 'settled'])(
    '%s: all figures stand with unit or reason, nothing is not a number',
    (state) => {
      const lamp = DEMOS[name]!()
      const sheet = fakeSheet(lamp, state)
      const markup = html(sheet, state)
      expect(markup).not.toMatch(/NaN|undefined|Infinity|\[object/)
      const text = words(markup)
      for (const figure of FIGURE_NAMES) {
        expect(text).toContain(FIGURE_WORDS[figure].short ?? FIGURE_WORDS[figure].name)
        if (!sheet.figures[figure]) expect(text).toContain(`None: ${sheet.absent[figure]}`)
      }
      expect(text).toContain('Sums to 100.000 % of the flux emitted.')
    },
  )
})

test('while rough, the dangers say so and stay', () => {
  const lamp = gannetHead()
  const text = words(html(fakeSheet(lamp, 'rough'), 'rough'))
  expect(text).toContain('Figures still rough; the upper end of ± is used.')
  expect(text).toContain('2 severe, 2 warnings, 1 note')
  expect(text).toContain('Tracing…')
  expect(words(html(fakeSheet(lamp), 'settled'))).not.toContain('still rough')
})

test('the worst findings stand before every part of the sheet, the gravest first, notes left out', () => {
  const sheet = fakeSheet(gannetHead())
  const markup = html(sheet)
  const head = markup.slice(0, markup.indexOf('sheet-dangers'))
  const titles = [...head.matchAll(/<button type="button" title="([^"]*)"/g)].map((m) => m[1]!)
  const grave = sheet.findings.filter((f) => f.severity !== 'note')
  expect(titles).toHaveLength(grave.length)
  expect(sheet.findings.find((f) => words(f.title) === words(titles[0]!))?.severity).toBe('severe')
  const many = { ...sheet, findings: Array.from({ length: 9 }, () => grave[0]!) }
  expect(words(html(many))).toContain('and 5 severe more')
  const [warning] = sheet.findings.filter((f) => f.severity === 'warning')
  const mixed = { ...sheet, findings: [...Array.from({ length: 6 }, () => grave[0]!), warning!, warning!] }
  expect(words(html(mixed))).toContain('and 2 severe, 2 warnings more')
})

test('a tile tells the doubt of the parts from ± of tracing; all digits stand behind it', () => {
  const lamp = gannetHead()
  const figures = { fluxOutLm: { value: 66_070, se: 61 }, beamAngleDeg: { value: 8.193, se: 0.016 } }
  const markup = html({ ...fakeSheet(lamp), figures }).replaceAll('\u202f', ' ')
  const tile = (name: string) => markup.split('class="sheet-tile"').find((part) => part.includes(`>${name}<`)) ?? ''
  expect(tile('Flux out')).toContain('<data value="66070">66 100</data>')
  expect(words(tile('Flux out'))).toMatch(/± 200 lm ?parts ± 7 %/)
  expect(words(tile('Beam angle'))).not.toContain('parts')
})

test('an empty list is no promise', () => {
  const lamp = stileLamp()
  const text = words(html({ ...fakeSheet(lamp), findings: [] }))
  expect(text).toContain('That is no proof that the lamp is safe.')
})

test('a patterned beam is stated before the figures', () => {
  const lamp = gannetHead()
  const text = words(html({ ...fakeSheet(lamp), patterned: true }))
  expect(text.indexOf('The beam is a picture of the array:')).toBeGreaterThanOrEqual(0)
  expect(text.indexOf('The beam is a picture of the array:')).toBeLessThan(text.indexOf('Target centre'))
})

test('a patterned beam has the half-flux angle among the first figures, and the beam angle after them', () => {
  const lamp = gannetHead()
  const order = (patterned: boolean) => {
    const text = words(html({ ...fakeSheet(lamp), patterned }))
    return ['Half-flux angle', 'Beam angle', 'Spill outside the target'].map((name) => text.indexOf(name))
  }
  const [half, beam] = order(true)
  expect(half).toBeGreaterThan(0)
  expect(half).toBeLessThan(beam!)
  const [plainHalf, plainBeam] = order(false)
  expect(plainBeam).toBeLessThan(plainHalf!)
})

test('an empty face says how to put boards down, and that the sun still falls in', () => {
  const text = words(renderToStaticMarkup(<EmptyFace />))
  expect(text).toMatch(/no boards on the face/)
  expect(text).toMatch(/Fill the face/)
  expect(text).toMatch(/Sunlight/)
})

test('a hazard counts at the upper end of ±, rounded up', () => {
  const lamp = gannetHead()
  const sheet = fakeSheet(lamp)
  sheet.hotSpots = { lens: { kWm2: 2.01, se: 0.1, xMm: 0, yMm: 0, zMm: 1050, discMm: 10 } }
  // 2.01 + 2.131 · 0.1 = 2.2231, up to three digits, as the findings say it: 2.23
  expect(words(html(sheet)).replaceAll('\u202f', ' ')).toMatch(/counts as 2\.23 ?kW\/m²/)
})

test('a ledger that does not close is called so', () => {
  const { ledger } = fakeSheet(gannetHead())
  expect(closingText(ledger)).toBe('Sums to 100.000 % of the flux emitted.')
  expect(closingText(ledger.slice(1))).toContain('does not close')
})

test('the head always shows the count, also while an edit is traced', () => {
  const sheet = fakeSheet(gannetHead())
  const markup = renderToStaticMarkup(
    <StateLine
      sheet={sheet}
      findings={sheet.findings}
      state="old"
      heldBy={[]}
      why=""
      precision={0.003}
      onPrecision={() => {}}
      onDangers={() => {}}
    />,
  )
  expect(words(markup)).toContain('2 severe, 2 warnings, 1 note')
  expect(words(markup)).toContain('Figures of the lamp before the edit.')
  // A precision that is not in the list is still shown.
  expect(markup).toMatch(/<option value="0.003" selected=""/)
})

test('every standing caution is there, whatever was found', () => {
  const text = words(html({ ...fakeSheet(stileLamp()), findings: [] }))
  for (const { text: caution } of CAUTIONS) expect(text).toContain(caution)
})

test('an assembled lamp: what each part takes, with its sum; the mapped element by its name and in its own frame', () => {
  const sheet = fakeSheet(gannetHead())
  const line = (name: string, value: number, lm: number, w: number) => ({
    ...{ line: name, name, share: { value, se: 0 }, lm, w },
  })
  const parts = [line('Wall from 14 to 90 mm', 0.1, 2000, 7), line('Clear pane: absorbed', 0.025, 500, 2)]
  const turned = { originMm: [0, 0, 134], rotation: [0, -1, 0, 1, 0, 0, 0, 0, 1] } as const
  const mapped = { name: 'Clear pane', kind: 'cover', frame: turned } as const
  const text = words(html({ ...sheet, parts, mapped }))
  expect(text).toContain(' Target Cover Wall ')
  expect(text).toContain('front plane of “Clear pane”, seen square on from the side of the target.')
  expect(text).toContain('along the piece’s own x, from its middle, mm')
  expect(text).toMatch(/Clear pane 2.410 ± 0.024 kW/)
  expect(text).toMatch(
    /What each part takes of it .*Wall from 14 to 90 mm .*Clear pane: absorbed .*Sum 12\.5 % 2500 9 /,
  )
  expect(words(html(sheet))).not.toContain('What each part takes')
})
