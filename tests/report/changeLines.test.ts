// What changed between two documents, in words, as a builder would say it.
import { expect, test } from 'vitest'
import { jsonSchemaText } from '../../src/lamp/jsonSchema.ts'
import { gannetHead, stileLamp } from '../../src/library/demos.ts'
import { withTolerance } from '../../src/library/typicalTolerances.ts'
import { changeLines } from '../../src/report/changeLines.ts'
import { lampWith } from '../kit/lampWith.ts'

const lamp = gannetHead()

test('a lamp and itself: nothing', () => {
  expect(changeLines(lamp, gannetHead())).toEqual([])
})

test('one current; all currents in one line; a board that is gone is named, whatever its place in the list', () => {
  const dimmed = (ids: readonly string[]) =>
    lampWith({ boards: lamp.boards.map((b) => (ids.includes(b.id) ? { ...b, currentA: 1.5 } : b)) })
  const ids = lamp.boards.map((b) => b.id)
  expect(changeLines(lamp, dimmed(['B7']))).toEqual(['Board B7: current 2 → 1.5 A'])
  expect(changeLines(lamp, dimmed(ids))).toEqual(['Boards: current 2 → 1.5 A (19 of them)'])
  expect(changeLines(lamp, lampWith({ boards: lamp.boards.slice(1) }))).toEqual(['Board B1: taken out'])
})

test('numbers with their units, choices, whole parts', () => {
  const changed = lampWith({
    lens: { zMm: 1060 },
    target: { coneHalfDeg: 3 },
    face: { reflectance: 0.5 },
    tunnel: null,
  })
  expect(changeLines(lamp, changed).sort()).toEqual([
    `Face: reflectance ${100 * lamp.face.reflectance} % → 50 %`,
    'Lens: stands at z 1050 → 1060 mm',
    'Target: cone, half angle 2° → 3°',
    'Tunnel: taken out',
  ])
  expect(changeLines(stileLamp(), { ...stileLamp(), name: 'Other' })).toEqual(['Name: “Stile lamp” → “Other”'])
})

test('the light of a mode is one choice; rows of a list that have no names; numbers of a table together', () => {
  const heat = { kind: 'mode' as const, mode: 'low', seconds: 90 }
  expect(changeLines(lamp, lampWith({ heat }))).toEqual(['Light traced: junctions as rated → mode “Low”, after 90 s'])
  const hole = { shape: 'hole' as const, xMm: 60, yMm: 0, diameterMm: 4, why: 'screw' }
  const [one, two] = [[hole], [{ ...hole, xMm: 62 }]].map((keepOuts) => lampWith({ face: { keepOuts } }))
  expect(changeLines(one!, two!)).toEqual(['Face: keep-outs no. 1 x 60 → 62 mm'])
  expect(changeLines(lampWith({ face: { keepOuts: [] } }), one!)).toEqual(['Face: keep-outs 1 more'])
  const askingFor = (askedMm: number[]) => lampWith({ danger: { askedMm } })
  expect(changeLines(askingFor([500, 700, 900]), askingFor([600, 800, 900]))).toEqual(['Danger: asked, other values'])
  const within = (plusMinus: number) =>
    withTolerance(lamp, 'lensDistanceMm', { on: true, spread: 'uniform', plusMinus })
  expect(changeLines(within(1), within(2))).toEqual(['Tolerances: lens distance, ± 1 → 2 mm'])
})

interface Node {
  $ref?: string
  anyOf?: Node[]
  oneOf?: Node[]
  properties?: Record<string, Node>
  additionalProperties?: Node | false
  items?: Node | Node[]
}

test('every entry of the format is named without its key: no joined words, no unit left at an end', () => {
  const schema = JSON.parse(jsonSchemaText())
  const seen = new Set<string>()
  const visit = (node: Node, make: (value: unknown) => unknown, path: string, depth: number): void => {
    if (node.$ref) {
      const target = node.$ref.split('/').slice(1)
      visit(
        target.reduce((o, key) => o[key], schema),
        make,
        path,
        depth,
      )
      return
    }
    for (const one of [...(node.anyOf ?? []), ...(node.oneOf ?? [])]) visit(one, make, path, depth + 1)
    for (const [key, inner] of Object.entries(node.properties ?? {}))
      if (key !== 'id') visit(inner, (value) => make({ [key]: value }), `${path}.${key}`, depth + 1)
    const items = Array.isArray(node.items) ? node.items[0] : node.items
    if (items && depth < 12) visit(items, (value) => make([value]), path, depth + 1)
    if (node.properties || items || node.anyOf || node.oneOf || path === '' || path.startsWith('.heat')) return
    seen.add(path)
    const [line = ''] = changeLines(make(1) as never, make(2) as never)
    expect(line, path).toMatch(/: /)
    expect(line.replace(/“[^”]*”|\d → \d.*/g, ''), path).not.toMatch(/[a-zµ][A-Z]|_| (deg|kw|lm) $|undefined/)
  }
  visit(schema, (value) => value, '', 0)
  expect(seen.size).toBeGreaterThan(300)
})
