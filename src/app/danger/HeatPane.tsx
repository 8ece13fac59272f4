// What gets hot: the lamp's own parts by their own light, and objects in the beam.

import { type ReactNode, useState } from 'react'
import { harmWords, inSentence } from '../../checks/words.ts'
import { lightInFront, materialName, readThing, type ThingReading } from '../../hazard/inTheWay.ts'
import { onFrontKWm2 } from '../../hazard/onParts.ts'
import { MATERIAL_IDS, type MaterialId, type ThingInTheWay } from '../../lamp/danger.ts'
import { allInSystem, inSystem } from '../../num/quantity.ts'
import type { UnitSystem } from '../../num/unitSystem.ts'
import { alsoHappens, belowWords } from '../../report/danger.ts'
import { clearDistance, degreesText, roundUp, THIN } from '../common/format.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { addThing, removeThing } from './edits.ts'
import { temperatureText, untilHarm, upTo } from './model/words.ts'
import type { PaneProps } from './pane.ts'
import { showPlace } from './pane.ts'

export function HeatPane(p: PaneProps) {
  const system = useUnitSystem()
  return (
    <>
      <h3>Things in the way</h3>
      <Materials {...p} />
      <TrialMaterial {...p} />
      <h3>The lamp’s own parts</h3>
      <Parts {...p} />
      <p className="danger-quiet">
        Steady temperatures in still air at {degreesText(p.reading.ambientC, system)}, losing heat on the lit side only,
        nothing carried away along the sheet: the hot side. What lies on the lens takes in all of its light; cloth and
        film lie double.
      </p>
    </>
  )
}

function Materials({ reading }: PaneProps) {
  const system = useUnitSystem()
  const own = useDesign((s) => s.lamp.danger?.things?.length ?? 0)
  const usual = reading.things.length - own
  return (
    <table className="danger-table">
      <thead>
        <tr>
          <th scope="col">In the way</th>
          <th scope="col">On it</th>
          <th scope="col">Settles at</th>
          <th scope="col">Harm</th>
        </tr>
      </thead>
      <tbody>
        {reading.things.map((t, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: two things may be called alike
          <tr key={i}>
            <th scope="row">
              {inSystem(t.name, system)}
              <span className="danger-quiet"> {inSentence(materialName(t.material))}</span>
              {i >= usual && (
                <Button
                  kind="quiet"
                  name={`Take out ${inSystem(t.name, system)}`}
                  onPress={() => removeThing(i - usual)}
                >
                  ✕
                </Button>
              )}
            </th>
            <ThingCells of={t} />
          </tr>
        ))}
      </tbody>
    </table>
  )
}

const alsoWords = (t: ThingReading, system: UnitSystem): string =>
  allInSystem(alsoHappens(t, untilHarm), system)
    .map((words) => `, ${words}`)
    .join('')

function ThingCells({ of: t }: { of: ThingReading }) {
  const system = useUnitSystem()
  return (
    <>
      <td>{upTo(t.kWm2)}</td>
      <td>{t.settlesC === null ? 'cooled by blood' : temperatureText(t.settlesC, system)}</td>
      <td data-harmed={t.secondsToHarm !== null || t.secondsTo90C !== null || undefined}>
        {t.secondsToHarm === null
          ? belowWords(t.shareOfLimit)
          : `${inSystem(harmWords(t.harm), system)} in ${untilHarm(t.secondsToHarm)}`}
        {alsoWords(t, system)}
      </td>
    </>
  )
}

const MATERIAL_CHOICES = MATERIAL_IDS.map((key) => ({ key, name: materialName(key) }))

/** Any material at any distance; added to the lamp, it stays on the danger sheet. */
function TrialMaterial({ reading }: PaneProps) {
  const system = useUnitSystem()
  const [material, setMaterial] = useState<MaterialId>('timber')
  const [distanceMm, setDistance] = useState(500)
  const [absorbs, setAbsorbs] = useState(1)
  const thing: ThingInTheWay = {
    name: `${materialName(material)} at ${clearDistance(distanceMm, system)}`,
    material,
    distanceMm,
    absorbs,
  }
  const t = readThing(
    reading.front,
    thing,
    reading.clear,
    reading.ambientC,
    lightInFront(reading.front, { small: reading.small, onLensKWm2: onFrontKWm2(reading.parts) }),
  )
  const set = (change: (value: number) => void) => (value: number) => {
    change(value)
    return null
  }
  return (
    <div className="danger-one">
      <Choice label="Or" value={material} options={MATERIAL_CHOICES} onChoose={(key: MaterialId) => setMaterial(key)} />
      <NumberField
        label="at"
        value={distanceMm}
        unit="mm"
        step={50}
        min={0}
        max={1_000_000}
        description="From the lamp’s front"
        onSet={set(setDistance)}
      />
      <NumberField
        label="takes in"
        value={absorbs}
        unit="share"
        step={0.05}
        min={0}
        max={1}
        description="Share of the light that it takes in: 1 for black"
        onSet={set(setAbsorbs)}
      />
      <p>
        {upTo(t.kWm2)} on it;{' '}
        {t.settlesC === null ? 'cooled by blood' : `it settles at ${temperatureText(t.settlesC, system)}`};{' '}
        <b data-harmed={t.secondsToHarm !== null || t.secondsTo90C !== null || undefined}>
          {t.secondsToHarm === null
            ? `it takes in ${belowWords(t.shareOfLimit)}`
            : `it ${inSystem(harmWords(t.harm), system)} in ${untilHarm(t.secondsToHarm)}`}
          {alsoWords(t, system)}
        </b>
        . <Button onPress={() => addThing(thing)}>Keep on this lamp’s sheet</Button>
      </p>
    </div>
  )
}

interface PartRow {
  name: string
  on: string
  at: string
  bears: string
  passed: boolean
  source: string
  show?: () => void
}

function partRows({ reading: { parts } }: PaneProps, system: UnitSystem): PartRow[] {
  const { lens, elements, wall, boards, optics } = parts
  type On = 'lens' | 'wall' | 'face'
  const point = (s: { xMm: number; yMm: number; zMm: number }, on: On, of?: string) => () =>
    showPlace({ kind: 'point', xMm: s.xMm, yMm: s.yMm, zMm: s.zMm, on, ...(of === undefined ? {} : { of }) })
  const rows: PartRow[] = []
  if (lens)
    rows.push({
      name: `${lens.name}, ${inSentence(lens.material)}`,
      on: upTo(lens.kWm2),
      at: `${temperatureText(lens.cleanC, system)} clean; ${temperatureText(lens.dirtyC, system)} under soot or a fly`,
      bears: lens.keepBelowC === null ? 'not known' : degreesText(lens.keepBelowC, system),
      passed: lens.keepBelowC !== null && lens.cleanC > lens.keepBelowC,
      source: `It can take in ${(100 * lens.absorbedShare).toFixed(1)} % of the light. ${lens.source}`,
      show: point(lens.spot, 'lens'),
    })
  for (const e of elements)
    rows.push({
      name: `${e.name}, ${inSentence(e.material)}`,
      on: e.spot ? upTo(e.kWm2) : 'no light',
      at: `${temperatureText(e.cleanC, system)} clean; ${temperatureText(e.dirtyC, system)} under soot or a fly`,
      bears: e.keepBelowC === null ? 'not known' : degreesText(e.keepBelowC, system),
      passed: e.keepBelowC !== null && e.cleanC > e.keepBelowC,
      source: `Over a face at ${temperatureText(e.faceC, system)}, it can take in ${(100 * e.absorbedShare).toFixed(1)} % of the light on both its faces. ${e.source}`,
      ...(e.spot ? { show: point(e.spot, 'lens', e.name) } : {}),
    })
  if (wall)
    rows.push({
      name: 'Tunnel lining',
      on: upTo(wall.kWm2),
      at: `${temperatureText(wall.cleanC, system)} clean; ${temperatureText(wall.dirtyC, system)} where stained`,
      bears: `${degreesText(Math.min(...wall.limits.map((l) => l.limitC)), system)} and up`,
      passed: wall.limits.some((l) => l.passed),
      source: wall.limits
        .map((l) => `${l.name}: ${degreesText(l.limitC, system)}${l.passed ? ', passed' : ''}. ${l.source}`)
        .join('. '),
      show: point(wall.spot, 'wall'),
    })
  if (boards)
    rows.push({
      name: 'Dark plastic on the face',
      on: upTo(boards.kWm2),
      at: `${temperatureText(boards.plasticC, system)}; the face itself ${temperatureText(boards.faceC, system)}`,
      bears: degreesText(boards.limit.limitC, system),
      passed: boards.limit.passed,
      source: `${boards.limit.source}. The face by itself, ${boards.faceFrom}.`,
      show: point(boards.spot, 'face'),
    })
  for (const o of optics)
    rows.push({
      name: `Optic “${o.name}”`,
      on: `${roundUp(o.takenW, 2)}${THIN}W at most`,
      at: `${temperatureText(o.settlesC, system)} if it took that in`,
      bears: degreesText(o.limit.limitC, system),
      passed: o.limit.passed,
      source: o.limit.source,
    })
  return rows
}

function Parts(p: PaneProps) {
  const system = useUnitSystem()
  const absent = Object.values(p.reading.parts.absent)
  return (
    <>
      <table className="danger-table">
        <thead>
          <tr>
            <th scope="col">Part</th>
            <th scope="col">On it</th>
            <th scope="col">Up to</th>
            <th scope="col">Bears</th>
          </tr>
        </thead>
        <tbody>
          {partRows(p, system).map((row) => (
            <PartLine key={row.name} row={row} />
          ))}
        </tbody>
      </table>
      {absent.map((why) => (
        <p key={why} className="danger-quiet">
          {why}
        </p>
      ))}
    </>
  )
}

function PartLine({ row }: { row: PartRow }): ReactNode {
  return (
    <tr>
      <th scope="row">
        {row.name}
        <details className="danger-why">
          <summary aria-label={`${row.name}: source`}>source</summary>
          {row.source}
        </details>
        {row.show && (
          <button type="button" className="danger-where" aria-label={`Show the place: ${row.name}`} onClick={row.show}>
            show
          </button>
        )}
      </th>
      <td>{row.on}</td>
      <td>{row.at}</td>
      <td data-harmed={row.passed || undefined}>
        {row.bears}
        {row.passed ? ': too hot' : ''}
      </td>
    </tr>
  )
}
