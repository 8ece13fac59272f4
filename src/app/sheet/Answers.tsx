// The builder's answers, on tiles: light on the target, intensity, beam angle, run time, distance to keep.

import { memo } from 'react'
import type { ModeRun } from '../../electrothermal/result.ts'
import type { FigureName } from '../../job/beam/sheet.ts'
import { inSystem } from '../../num/quantity.ts'
import { keepAway, runTime, shownMode, stopWords } from '../../report/answers.ts'
import { upDistance } from '../../report/danger.ts'
import { modeWords } from '../../report/power.ts'
import { clearDistance, degreesText, THIN } from '../common/format.ts'
import { useDanger } from '../store/danger.ts'
import { usePower } from '../store/power.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { useSheet } from './contexts.ts'
import { FigureTile, patternedName } from './Figures.tsx'
import { ExplainedName } from './Part.tsx'

const ANSWERS: readonly FigureName[] = ['targetCentreLx', 'axialIntensityCd', 'peakIntensityCd', 'beamAngleDeg']
const MORE: readonly FigureName[] = ['fluxOutLm', 'efficiency', 'fieldAngleDeg', 'beamDistanceM']

export function Answers() {
  const { sheet } = useSheet()
  return (
    <>
      <div className="sheet-tiles">
        {ANSWERS.map((name) => (
          <FigureTile key={name} name={patternedName(name, sheet)} />
        ))}
        <RunTile />
        <KeepTile />
      </div>
      <div className="sheet-tiles sheet-tiles-more">
        {MORE.map((name) => (
          <FigureTile key={name} name={name} />
        ))}
      </div>
    </>
  )
}

function RunTile() {
  const { sheet } = useSheet()
  const run = usePower((s) => shownMode(s.report?.modes ?? null, sheet))
  return <RunOf run={run} />
}

const RunOf = memo(({ run }: { run: ModeRun | null }) => {
  const stale = usePower((s) => s.stale)
  const system = useUnitSystem()
  return (
    <ExplainedName
      className="sheet-tile"
      name="Run time"
      how={`From switch-on until something has to stop it: too hot, or the pack empty. Of the mode that the light is traced in, else of the one that stops soonest.${run ? ` ${modeWords(run, (c) => degreesText(c, system))}` : ''}`}
      source="Heat and power (H)."
      level={3}
    >
      {run && (
        <span className="sheet-tile-note" translate="no">
          {run.name}
        </span>
      )}
      {run ? <Value big={runTime(run)} under={stale ? 'before the edit' : stopWords(run, system)} /> : <NotYet />}
    </ExplainedName>
  )
})

const KeepTile = memo(() => (
  <ExplainedName
    className="sheet-tile"
    name="Keep clear"
    how="From the front of the lamp: nearer than this something that burns can catch fire, or bare skin hurts. Rounded up, by the upper end of ±. For eyes the longest distance that applies, once the dangers in full have been read."
    source="Materials in front, and the dangers in full (D)."
    level={3}
  >
    <span className="sheet-tile-note">fire, skin</span>
    <KeepValue />
  </ExplainedName>
))

function KeepValue() {
  const { sheet } = useSheet()
  const reading = useDanger((s) => s.reading)
  const system = useUnitSystem()
  const { clearMm, eyesM } = keepAway(sheet, reading)
  const eyes = !reading
    ? 'eyes: not read yet'
    : eyesM > 0
      ? `eyes ${inSystem(upDistance(1000 * eyesM, THIN), system)}`
      : 'eyes: no limit'
  return clearMm === null ? (
    <NotYet />
  ) : (
    <Value big={clearMm > 0 ? clearDistance(clearMm, system) : 'none'} under={eyes} />
  )
}

const NotYet = () => <p className="sheet-absent">Not known yet.</p>

function Value({ big, under }: { big: string; under: string }) {
  const [number = '', unit = ''] = /^[\d.]+\s/u.test(big) ? big.split(/\s(.*)/su) : [big]
  return (
    <>
      <p className={unit ? 'sheet-big' : 'sheet-big sheet-big-words'}>
        {number}
        {unit && <span className="sheet-unit">{unit}</span>}
      </p>
      <p className="sheet-pm">{under}</p>
    </>
  )
}
