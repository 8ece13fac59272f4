// What came of a wish, side by side: a picture of each lamp, what it gives and costs, what is dangerous about it, and the button that takes it.
import { useMemo } from 'react'
import type { KindOutcome, Proposal } from '../../job/wish/result.ts'
import type { Wish } from '../../job/wish/wish.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { inSystem } from '../../num/quantity.ts'
import { sectionFigure } from '../../report/book/sectionFigure.ts'
import { COSTS_NOTE, declinedWords, missWords, proposalRows, severeWords } from '../../report/wish.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { Picture } from './Picture.tsx'

interface ProposalsProps {
  wish: Wish
  outcomes: readonly KindOutcome[]
  isDone: boolean
  onLamp(lamp: Lamp, label: string): void
}

export function Proposals({ wish, outcomes, isDone, onLamp }: ProposalsProps) {
  const proposals = outcomes.flatMap((o) => (o.ok ? [o.proposal] : []))
  const unit = wish.candela === undefined ? 'lx' : 'cd'
  const system = useUnitSystem()
  return (
    <>
      {proposals.length > 0 && (
        <table className="start-proposals">
          <thead>
            <tr>
              <td />
              {proposals.map((p) => (
                <th key={p.kind} scope="col">
                  <Head proposal={p} onLamp={onLamp} />
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            <tr>
              <th scope="row">Severe findings</th>
              {proposals.map(({ kind, severe }) => (
                <td key={kind}>{severe.length === 0 ? 'none' : `${severe.length}, said below`}</td>
              ))}
            </tr>
            {proposalRows(wish, system).map((row) => (
              <tr key={row.label}>
                <th scope="row">
                  {row.label} <span className="start-unit">{row.unit}</span>
                </th>
                {proposals.map((p) => (
                  <td key={p.kind}>{row.of(p) || '–'}</td>
                ))}
              </tr>
            ))}
            <tr>
              <th scope="row">Not as wished</th>
              {proposals.map((p) => (
                <td key={p.kind}>{p.misses.map((miss) => missWords(miss, system)).join('; ') || 'all as wished'}</td>
              ))}
            </tr>
            <tr>
              <th scope="row">Severe, and what to do</th>
              {proposals.map((p) => (
                <Severe key={p.kind} proposal={p} />
              ))}
            </tr>
          </tbody>
        </table>
      )}
      {proposals.length > 0 && <p className="start-note">{COSTS_NOTE}</p>}
      {isDone && proposals.length === 0 && <p>No kind of lamp can do it within these limits.</p>}
      <ul className="start-declined">
        {outcomes.map((o) =>
          o.ok ? null : (
            <li key={o.declined.kind}>
              <strong>{o.declined.name}</strong>: {inSystem(declinedWords(o.declined, unit), system)}
            </li>
          ),
        )}
      </ul>
    </>
  )
}

function Head({ proposal, onLamp }: { proposal: Proposal } & Pick<ProposalsProps, 'onLamp'>) {
  const figure = useMemo(() => sectionFigure(proposal.lamp, [], { plain: true }), [proposal.lamp])
  return (
    <>
      <span className="start-paper">
        <Picture figure={figure} />
      </span>
      <span className="start-kind">{proposal.name}</span>
      <Button
        name={`Take this lamp: ${proposal.name}`}
        onPress={() => onLamp(proposal.lamp, `From a wish: ${proposal.name}`)}
      >
        Take this lamp
      </Button>
    </>
  )
}

function Severe({ proposal: { severe, lamp } }: { proposal: Proposal }) {
  const system = useUnitSystem()
  return (
    <td className="start-severe">
      {severe.length === 0 ? 'none' : severe.map((f) => <p key={f.title}>{inSystem(severeWords(f, lamp), system)}</p>)}
    </td>
  )
}
