import type { ModeRun } from '../../electrothermal/result.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { factsOf } from './model/facts.ts'

export function Facts({ run }: { run: ModeRun }) {
  const system = useUnitSystem()
  const boards = useDesign((s) => s.lamp.boards)
  const facts = factsOf(run, (i) => boards[i]?.id ?? `${i + 1}`, system)
  return (
    <section className="power-facts" aria-labelledby="power-facts-title">
      <div className="power-part-head">
        <h3 id="power-facts-title">
          <span translate="no">{run.name}</span>, from switch-on to its end
        </h3>
      </div>
      <dl>
        {facts.map((f) => (
          <div key={f.name} title={f.how}>
            <dt>{f.name}</dt>
            <dd>{f.value}</dd>
          </div>
        ))}
      </dl>
    </section>
  )
}
