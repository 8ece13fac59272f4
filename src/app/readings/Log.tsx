// Readings in, figures out, and beside them what they say of the lamp.
import { halfOnWallMm, tracedLight } from '../../job/fit/fromSheet.ts'
import type { ReadingSet, Readings } from '../../lamp/readings.ts'
import { checkReadings, type Expected, type ReadingWarning } from '../../readings/check.ts'
import { type MeasuredFigure, measuredFigures } from '../../readings/figures.ts'
import { figureRow, warningWords, withCandela } from '../../report/measuring.ts'
import { formatFigure } from '../common/format.ts'
import { useReadings } from '../store/readings.ts'
import { design, useDesign, useResult } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { Table } from '../ui/Table.tsx'
import { AddReadings } from './AddReadings.tsx'
import { Causes } from './Causes.tsx'
import { MeterFields } from './MeterFields.tsx'
import { PicturePane } from './photo/PicturePane.tsx'
import { useWallPicture, wallPicture } from './photo/pictureStore.ts'
import type { ReadingsActions } from './runner.ts'
import { Sets } from './Sets.tsx'

const NONE: Readings = { sets: [] }

export function Log({ actions }: { actions: ReadingsActions }) {
  const all = useDesign((s) => s.lamp.readings) ?? NONE
  const warnings = checkReadings(all, useExpected(all))
  const isPicture = useWallPicture((s) => s.open)
  if (isPicture) return <PicturePane />
  return (
    <div className="readings-log">
      <div className="readings-in">
        <AddReadings />
        <div className="readings-row photo-link">
          <Button hint="Lux over the whole wall from a photograph" onPress={() => wallPicture.setState({ open: true })}>
            Picture of the wall…
          </Button>
        </div>
        {all.sets.length > 0 && (
          <>
            <Sets sets={all.sets} />
            <MeterFields />
            <Warnings warnings={warnings} />
            <Figures all={all} />
          </>
        )}
      </div>
      {all.sets.length > 0 && (
        <div className="readings-out">
          <Causes actions={actions} doubtful={warnings.length} />
        </div>
      )}
    </div>
  )
}

/** How wide the traced beam is on each wall, and the predictions of the last comparison, where it was of these readings. */
function useExpected(all: Readings): Map<string, Expected> {
  const compared = useReadings((s) => s.compared)
  const figures = useResult((s) => s.sheet?.figures)
  const points = compared?.readings === all ? (compared.result?.points ?? []) : []
  return new Map(
    all.sets.map((set) => [
      set.id,
      {
        lx: points.filter((p) => p.setId === set.id).map((p) => p.predictedLx),
        halfMm: halfOnWallMm(set, figures ? { figures } : null),
      },
    ]),
  )
}

function Warnings({ warnings }: { warnings: readonly ReadingWarning[] }) {
  if (warnings.length === 0) return null
  return (
    <section className="readings-warnings" aria-label="Readings to look at again">
      <h3>Look again</h3>
      <ul>
        {warnings.map((w) => (
          <li key={warningWords(w)}>
            {warningWords(w)}
            {w.kind === 'standsOut' && <Corrections of={w} />}
            {(w.kind === 'length' || w.kind === 'unit') && <OtherUnit of={w} />}
          </li>
        ))}
      </ul>
    </section>
  )
}

type StandsOut = Extract<ReadingWarning, { kind: 'standsOut' }>

/** By hand alone: each is one step of history. */
const changeRows = (id: string, label: string, rows: (old: readonly object[]) => object[]) =>
  void tryEdit(design, label, (lamp) => {
    const sets = (lamp.readings?.sets ?? []).map((s) => (s.id === id ? { ...s, rows: rows(s.rows) } : s))
    return { ...lamp, readings: { ...lamp.readings, sets: sets as ReadingSet[] } }
  })

/** All places, or all lux, of a set in the unit that would put them right. */
function OtherUnit({ of: { set: id, kind, slip } }: { of: Extract<ReadingWarning, { kind: 'length' | 'unit' }> }) {
  const key = kind === 'length' ? 'atMm' : 'lx'
  const words = kind === 'length' ? `The places are in ${slip.is}` : `The readings are in ${slip.is}`
  const times = (row: object) => {
    const old = (row as Record<string, unknown>)[key]
    return typeof old === 'number' ? { ...row, [key]: Number((old * slip.factor).toPrecision(9)) } : row
  }
  return (
    <span className="readings-row">
      <Button kind="quiet" onPress={() => changeRows(id, words, (old) => old.map(times))}>
        {words}
      </Button>
    </span>
  )
}

function Corrections({ of: { set: id, row, slip } }: { of: StandsOut }) {
  const change = (label: string, rows: (old: readonly object[]) => object[]) => changeRows(id, label, rows)
  return (
    <span className="readings-row">
      {slip && (
        <Button
          kind="quiet"
          onPress={() =>
            change(`Reading corrected to ${slip.likely} lx`, (old) =>
              old.map((r, i) => (i === row ? { ...r, lx: slip.likely } : r)),
            )
          }
        >
          It is {slip.likely} lx
        </Button>
      )}
      <Button kind="quiet" onPress={() => change('A reading left out', (old) => old.toSpliced(row, 1))}>
        Leave it out
      </Button>
    </span>
  )
}

const DRAWN: Partial<
  Record<
    MeasuredFigure['name'],
    'axialIntensityCd' | 'peakIntensityCd' | 'beamDistanceM' | 'beamAngleDeg' | 'fieldAngleDeg' | 'fluxOutLm'
  >
> = {
  axialIntensityCd: 'axialIntensityCd',
  peakIntensityCd: 'peakIntensityCd',
  beamDistanceM: 'beamDistanceM',
  beamAngleDeg: 'beamAngleDeg',
  fieldAngleDeg: 'fieldAngleDeg',
  nearFieldCd: 'axialIntensityCd',
  lumensLm: 'fluxOutLm',
  lumensWithOutsideLm: 'fluxOutLm',
}
const UNITS = {
  axialIntensityCd: 'cd',
  peakIntensityCd: 'cd',
  beamDistanceM: 'm',
  beamAngleDeg: 'deg',
  fieldAngleDeg: 'deg',
  fluxOutLm: 'lm',
} as const

function Figures({ all }: { all: Readings }) {
  const sheet = useResult((s) => s.sheet)
  const lamp = useDesign((s) => s.lamp)
  const compared = useReadings((s) => s.compared)
  const system = useUnitSystem()
  const rows = withCandela(
    measuredFigures(all, sheet && tracedLight(lamp, sheet)),
    compared?.readings === all ? compared.result : null,
  )
  if (rows.length === 0) return null
  const drawn = (f: MeasuredFigure) => {
    const name = DRAWN[f.name]
    const figure = name && sheet?.figures[name]
    return name && figure ? formatFigure(figure, UNITS[name]).text : ''
  }
  return (
    <Table
      caption="Figures from the readings, ± at about 95 % (k = 2)"
      showCaption
      rows={rows}
      rowKey={(f) => `${f.name} ${f.set}`}
      columns={[
        {
          key: 'name',
          name: 'Figure',
          of: (f) => <span title={figureRow(f, system).how}>{figureRow(f, system).name}</span>,
          words: true,
          heading: true,
        },
        { key: 'read', name: 'Measured', of: (f) => figureRow(f, system).text },
        { key: 'drawn', name: 'Traced', of: drawn },
        { key: 'set', name: 'From', of: (f) => f.set, words: true },
      ]}
    />
  )
}
