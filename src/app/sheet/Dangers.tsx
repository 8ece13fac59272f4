import { memo, useContext } from 'react'
import { type CautionId, cautionsFor } from '../../checks/cautions.ts'
import { bySeverity, type Finding, type Place } from '../../checks/finding.ts'
import type { HotSpot, HotSpotName, MaterialRisk } from '../../job/beam/sheet.ts'
import { mappedWords } from '../../library/lensSystem.ts'
import { ELEMENT_SPOT_HOW, hotSpotWords, LANDS_WORDS } from '../../report/figures.ts'
import { floorWords } from '../../report/floor.ts'
import {
  clearDistance,
  formatFigure,
  formatValue,
  roundDown,
  roundUp,
  THIN,
  toDigits,
  upperBound,
} from '../common/format.ts'
import { withKeys } from '../common/sameFinding.ts'
import { danger } from '../store/danger.ts'
import { missingPartOf } from '../store/missing.ts'
import { useDesign, useResult } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { CautionList } from '../ui/CautionList.tsx'
import { TryAgain } from '../ui/TryAgain.tsx'
import { StateContext, useSheet } from './contexts.ts'
import { ExplainedName, Part } from './Part.tsx'
import { SeverityMark } from './SeverityMark.tsx'
import { showPlace } from './showPlace.ts'
import { WhileVisible } from './WhileVisible.tsx'
import {
  countFindings,
  noneWords,
  pausedWords,
  placeWords,
  pointWords,
  SEVERITY_WORDS,
  unfinishedWords,
} from './words.ts'

export function DangerCount() {
  return countFindings(useSheet().sheet.findings)
}

function Findings() {
  const { sheet } = useSheet()
  const state = useContext(StateContext)
  const { findings } = sheet
  return (
    <>
      {unfinishedWords(state) && <p className="sheet-still-rough">{unfinishedWords(state)}</p>}
      {findings.length === 0 && (
        <p className="sheet-quiet">No rule found anything. That is no proof that the lamp is safe.</p>
      )}
      <FindingList findings={findings} />
    </>
  )
}

export const FindingList = ({ findings }: { findings: readonly Finding[] }) => (
  <ul className="sheet-findings">
    {withKeys(bySeverity(findings)).map(([key, f]) => (
      <li key={key} data-severity={f.severity}>
        <FindingText finding={f} />
      </li>
    ))}
  </ul>
)

/** Another reading has other objects, mostly with the same words in them. */
const FindingText = memo(TextOfFinding, (a, b) => JSON.stringify(a.finding) === JSON.stringify(b.finding))

function TextOfFinding({ finding: f }: { finding: Finding }) {
  const system = useUnitSystem()
  const where = useDesign(({ lamp }) => placeWords(f.place, lamp.boards, mappedWords(lamp), system))
  const part = missingPartOf(f)
  return (
    <>
      <p className="sheet-finding-title">
        <SeverityMark severity={f.severity} />
        <span className="sheet-severity">{SEVERITY_WORDS[f.severity]}</span>
        {f.title}
      </p>
      <p>
        <b>Do:</b> {f.cure}
      </p>
      {part ? (
        <TryAgain part={part} />
      ) : (
        <button type="button" className="sheet-where" onClick={() => showPlace(f.place)} aria-label={`Show ${where}`}>
          {where}
        </button>
      )}
      <details className="sheet-why">
        <summary aria-label={`Why: ${f.title}`}>why</summary>
        {f.why}
      </details>
    </>
  )
}

const SPOTS: readonly HotSpotName[] = ['front', 'lens', 'wall', 'face', 'sunInside']
const ON: Record<HotSpotName, Extract<Place, { kind: 'point' }>['on']> = {
  front: 'front',
  lens: 'lens',
  wall: 'wall',
  face: 'face',
  sunInside: 'inside',
}

function HotSpots() {
  const { sheet } = useSheet()
  return (
    <div className="sheet-rows">
      {SPOTS.map((of) => {
        const { name, how } = hotSpotWords(of, sheet)
        return <SpotRow key={of} of={of} name={name} how={[how, floorWords(of, sheet)].join(' ').trim()} />
      })}
      {(sheet.elements ?? []).map(({ name, spot }, i) => (
        <ExplainedName
          // biome-ignore lint/suspicious/noArrayIndexKey: two elements may be called alike
          key={i}
          className="sheet-row sheet-spot"
          name={name}
          asTyped
          how={ELEMENT_SPOT_HOW}
          level={5}
        >
          <Spot spot={spot} name={name} absent="no light on it" on="lens" element={`“${name}”`} />
        </ExplainedName>
      ))}
    </div>
  )
}

/** Its words stay while the figures in it follow every sheet. */
const SpotRow = memo(({ of, name, how }: { of: HotSpotName; name: string; how: string }) => (
  <ExplainedName className="sheet-row sheet-spot" name={name} how={how} level={5}>
    <SpotOf of={of} name={name} />
  </ExplainedName>
))

function SpotOf({ of, name }: { of: HotSpotName; name: string }) {
  const { sheet } = useSheet()
  return <Spot spot={sheet.hotSpots[of]} name={name} absent={sheet.absent[of] ?? 'not searched yet'} on={ON[of]} />
}

interface SpotProps {
  spot: HotSpot | null | undefined
  name: string
  absent: string
  on: Extract<Place, { kind: 'point' }>['on']
  element?: string
}

function Spot({ spot, name, absent, on, element }: SpotProps) {
  const system = useUnitSystem()
  if (!spot) return <span className="sheet-absent">{noneWords(absent)}</span>
  const { xMm, yMm, zMm } = spot
  return (
    <>
      <span className="sheet-row-value">{formatFigure({ value: spot.kWm2, se: spot.se }, 'kW/m²').text}</span>
      <span className="sheet-spot-more">
        <button
          type="button"
          className="sheet-where"
          aria-label={`Show ${name}, ${pointWords(spot, system)}`}
          onClick={() => showPlace({ kind: 'point', xMm, yMm, zMm, on, ...(element ? { element } : {}) })}
        >
          {pointWords(spot, system)}
        </button>
        <span>⌀ {formatValue(spot.discMm, 'mm', system === 'inch' ? 3 : 2, system)}</span>
        <span className="sheet-counts">
          counts as {roundUp(upperBound(spot.kWm2, spot.se))}
          {THIN}kW/m²
        </span>
      </span>
    </>
  )
}

function SunByTilt() {
  const system = useUnitSystem()
  const { sheet } = useSheet()
  const paused = useResult((s) => s.trace === 'paused')
  const heldBy = useResult((s) => s.heldBy)
  if (sheet.sun.length === 0) {
    const coming = paused ? `${pausedWords(heldBy)} The sun is traced later.` : 'Tracing the sun…'
    const none = paused && sheet.absent.sunInside?.includes('still') ? undefined : sheet.absent.sunInside
    return <p className="sheet-quiet">{none ? noneWords(none) : coming}</p>
  }
  const top = Math.max(...sheet.sun.map((s) => s.kWm2))
  return (
    <table className="sheet-table">
      <thead>
        <tr>
          <th scope="col">Tilt</th>
          <th scope="col">Worst inside</th>
          <th scope="col">Lands</th>
          <th scope="col">z</th>
        </tr>
      </thead>
      <tbody>
        {sheet.sun.map((s) => (
          <tr key={s.tiltDeg}>
            <th scope="row">{toDigits(s.tiltDeg, 3)}°</th>
            <td>
              {formatFigure({ value: s.kWm2, se: s.se }, 'kW/m²').text}
              <span className="sheet-bar" aria-hidden="true">
                <span style={{ width: `${(100 * s.kWm2) / top}%` }} />
              </span>
            </td>
            <td className="sheet-words">{LANDS_WORDS[s.lands]}</td>
            <td>{formatValue(Math.round(s.zMm), 'mm', system === 'inch' ? 4 : 6, system)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function Materials() {
  const { sheet } = useSheet()
  if (sheet.risks.length === 0) return <p className="sheet-quiet">Not searched yet.</p>
  const reached = sheet.risks.filter((r) => r.secondsAtWorst !== null || r.clearDistanceMm > 0)
  const below = sheet.risks.filter((r) => !reached.includes(r))
  return (
    <>
      {reached.length > 0 && <RiskTable risks={reached} />}
      {below.length > 0 && (
        <p className="sheet-quiet">
          Stay below their limit everywhere in front:{' '}
          {below.map((r) => `${r.material} (${toDigits(r.criticalKWm2, 3)})`).join('; ')}. Limits in kW/m².
        </p>
      )}
      <p className="sheet-quiet">
        Times are estimates for dark, dry material, rounded down; distances from the front of the lamp, rounded up. No
        proof of safety.
      </p>
    </>
  )
}

function RiskTable({ risks }: { risks: readonly MaterialRisk[] }) {
  const system = useUnitSystem()
  return (
    <table className="sheet-table">
      <thead>
        <tr>
          <th scope="col">What stands there</th>
          <th scope="col">At the worst place</th>
          <th scope="col">Keep clear</th>
        </tr>
      </thead>
      <tbody>
        {risks.map((r) => (
          <tr key={r.material} data-burns={r.secondsAtWorst !== null || undefined}>
            <th scope="row">
              {r.material}
              <details className="sheet-why">
                <summary aria-label={`${r.material}: source of its limit`}>
                  from {toDigits(r.criticalKWm2, 3)}
                  {THIN}kW/m²
                </summary>
                {r.source}
              </details>
            </th>
            <td>{r.secondsAtWorst === null ? 'stays below' : `after ${roundDown(r.secondsAtWorst)}${THIN}s`}</td>
            <td>{r.clearDistanceMm === 0 ? 'none' : clearDistance(r.clearDistanceMm, system)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/** The worst row of a table, shown in its heading too, so that folding hides no danger. */
function Worst({ of }: { of: 'spots' | 'sun' | 'materials' }) {
  const system = useUnitSystem()
  const { sheet } = useSheet()
  if (of === 'materials') {
    if (sheet.risks.length === 0) return null
    const clearMm = Math.max(...sheet.risks.map((r) => r.clearDistanceMm))
    return <>{clearMm === 0 ? 'none in danger' : `keep ${clearDistance(clearMm, system)} clear`}</>
  }
  const onElements = (sheet.elements ?? []).flatMap((e) => e.spot ?? [])
  const spots = of === 'sun' ? sheet.sun : [...Object.values(sheet.hotSpots), ...onElements]
  if (spots.length === 0) return null
  const worst = roundUp(Math.max(...spots.map((s) => upperBound(s.kWm2, s.se))))
  return <>{`up to ${worst}${THIN}kW/m²${of === 'sun' ? ' inside' : ''}`}</>
}

function Caution({ id }: { id: CautionId }) {
  const text = useDesign((s) => cautionsFor(s.lamp).find((c) => c.id === id)?.text)
  return text === undefined ? null : <p className="sheet-caution">{text}</p>
}

/** Everything about heat and fire: the findings first, then the tables behind them. No edit renders the folds and buttons anew, only the leaves. */
export function Dangers() {
  return (
    <>
      <Findings />
      <div className="danger-link">
        <Button
          hint="Keep-clear distances, foci in front, parts, sun from every side, eyes, and a safety notice to print (D)"
          onPress={() => danger.setState({ open: true })}
        >
          Dangers in full…
        </Button>
      </div>
      <Part level={4} title="Hot spots" aside={<Worst of="spots" />} open={false}>
        <WhileVisible>
          <HotSpots />
        </WhileVisible>
      </Part>
      <Part level={4} title="Sun by tilt" aside={<Worst of="sun" />} open={false}>
        <WhileVisible>
          <SunByTilt />
        </WhileVisible>
        <Caution id="daylight" />
      </Part>
      <Part level={4} title="Materials in front" aside={<Worst of="materials" />} open={false}>
        <WhileVisible>
          <Materials />
        </WhileVisible>
        <Caution id="clear-distance" />
      </Part>
      <h4 className="sheet-always-head">Whatever the figures say</h4>
      <CautionList className="sheet-always" />
    </>
  )
}
