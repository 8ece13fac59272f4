// A line of text for each mode; for the mode shown its curves, its plate and its energy, at the moment of the slider.

import type { ModeRun, PowerReport } from '../../electrothermal/result.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { allInSystem } from '../../num/quantity.ts'
import { modeWords } from '../../report/power.ts'
import { degreesText, THIN, toDigits } from '../common/format.ts'
import { hottestAt } from '../common/plateFrames.ts'
import { momentWords } from '../common/timeScale.ts'
import { valueText } from '../common/units.ts'
import { power, shownMoment, shownRun, usePower } from '../store/power.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { MomentSlider } from '../ui/MomentSlider.tsx'
import { Curves } from './Curves.tsx'
import { Energy } from './Energy.tsx'
import { Facts } from './Facts.tsx'
import { onCurve } from './model/plot.ts'
import { PlateMap } from './PlateMap.tsx'

export function Modes() {
  const report = usePower((s) => s.report)
  const run = usePower(shownRun)
  if (!report) return null
  if (!run) return <p className="power-quiet">No board stands on the face: there is nothing to run.</p>
  return (
    <>
      <Lines report={report} shown={run.id} />
      <Moment run={run} />
      <div className="power-shown">
        <Curves run={run} />
        <PlateMap run={run} />
        <Facts run={run} />
        <Energy run={run} />
      </div>
      <Assumed report={report} run={run} />
    </>
  )
}

/** Limits of heat that harm the lamp itself. */
const HOT = new Set(['junction', 'optic', 'insulation', 'sink'])

/** Each line is the button that shows its mode. */
function Lines({ report, shown }: { report: PowerReport; shown: string }) {
  const system = useUnitSystem()
  return (
    <ul className="power-lines" aria-label="Modes">
      {report.modes.map((m) => (
        <li key={m.id}>
          <button
            type="button"
            aria-pressed={m.id === shown}
            data-hot={m.limits.some((l) => HOT.has(l.limit)) || undefined}
            onClick={() => power.setState({ mode: m.id, atS: null })}
          >
            {modeWords(m, (c) => valueText(c, '°C', system, 0))}
          </button>
        </li>
      ))}
    </ul>
  )
}

function Moment({ run }: { run: ModeRun }) {
  const system = useUnitSystem()
  const atS = usePower((s) => shownMoment(run, s.atS))
  const boards = useDesign((s) => s.lamp.boards)
  const hot = hottestAt(run, atS)
  const name = boards[hot.index]?.id ?? `${hot.index + 1}`
  const at = (y: ArrayLike<number>, digits = 3) => toDigits(onCurve(run.curves.tS, y, atS), digits)
  return (
    <div className="power-moment">
      <MomentSlider run={run} />
      <Button
        hint="The beam sheet is traced with the light of this mode at this moment; undo brings the old one back"
        onPress={() => beamAt(run, atS)}
      >
        Beam at this moment
      </Button>
      <p className="power-now">
        <strong>{momentWords(atS)}</strong> after switch-on: {at(run.curves.lm)}
        {THIN}lm, hottest junction{' '}
        <strong>
          {degreesText(hot.c, system)} on board {name}
        </strong>
        , plate up to {degreesText(onCurve(run.curves.tS, run.curves.plateMaxC, atS), system)}, {at(run.curves.supplyV)}
        {THIN}V, {at(run.curves.supplyA)}
        {THIN}A.
      </p>
      <Taken run={run} atS={atS} />
    </div>
  )
}

function beamAt(run: ModeRun, atS: number) {
  const seconds = Number(atS.toPrecision(4))
  const label = `Heat: beam of ${run.name} at ${momentWords(seconds)}`
  const why = tryEdit(design, label, (lamp) => ({
    ...lamp,
    // The light of a mode's moment needs the mode in the document.
    power: lamp.power ?? powerOf(lamp).value,
    heat: { kind: 'mode', mode: run.id, seconds },
  }))
  power.setState({
    announcement: why ?? `The beam is traced with the light of ${run.name} at ${momentWords(seconds)}.`,
  })
}

function Taken({ run, atS }: { run: ModeRun; atS: number }) {
  const heat = useDesign((s) => s.lamp.heat)
  const name = usePower((s) => s.report?.modes.find((m) => heat.kind === 'mode' && m.id === heat.mode)?.name)
  if (heat.kind !== 'mode') return <p className="power-quiet">The beam sheet does not follow a mode yet.</p>
  const here = heat.mode === run.id && Math.abs(heat.seconds - atS) <= 1e-3 * Math.max(1, atS)
  return (
    <p className="power-quiet">
      The beam sheet shows {here ? 'this moment' : `“${name ?? heat.mode}” at ${momentWords(heat.seconds)}`}
      {run.protection ? ', cut-out and fold-back taken as failed' : ''}.
    </p>
  )
}

function Assumed({ report, run }: { report: PowerReport; run: ModeRun }) {
  const system = useUnitSystem()
  const all = [...allInSystem(report.assumed, system), ...run.outside.map((o) => `${o}: its end value is taken.`)]
  if (all.length === 0) return null
  return (
    <details className="power-assumed">
      <summary>What is taken for granted: {all.length}</summary>
      <ul>
        {all.map((a) => (
          <li key={a}>{a}</li>
        ))}
      </ul>
    </details>
  )
}
