// What may explain the readings, likeliest first; each can be put into a copy of the lamp.
import { withCause } from '../../job/fit/causes.ts'
import type { Explanation } from '../../job/fit/result.ts'
import { readLamp } from '../../lamp/read.ts'
import { causeValue, explanationName, isExplained, probabilityText } from '../../report/measuring.ts'
import { toDigits } from '../common/format.ts'
import { storage } from '../store/pageStorage.ts'
import { readings } from '../store/readings.ts'
import { design } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { Table } from '../ui/Table.tsx'

/** Explanations that are listed. */
const SHOWN = 8

export function Explanations({ of: explanations }: { of: readonly Explanation[] }) {
  const isFit = isExplained({ explanations })
  return (
    <Table
      caption="Explanations, likeliest first"
      rows={explanations.slice(0, SHOWN)}
      rowKey={(e: Explanation) => explanationName(e)}
      columns={[
        { key: 'p', name: 'Chance', of: (e) => (isFit ? probabilityText(e.probability) : '–') },
        { key: 'name', name: 'Cause', of: (e) => explanationName(e), words: true, heading: true },
        { key: 'value', name: 'Best value (95 %)', of: (e) => <Values of={e} />, words: true },
        { key: 'scatter', name: 'Scatter', of: (e) => toDigits(e.birge, 2) },
        {
          key: 'adopt',
          name: <span className="ui-hidden">Adopt</span>,
          of: (e) => isFit && <Adopt of={e} />,
        },
      ]}
    />
  )
}

function Values({ of }: { of: Explanation }) {
  const system = useUnitSystem()
  return of.causes.map((c) => <div key={c.key}>{causeValue(c, system)}</div>)
}

/** Into a copy of the lamp: the drawing stays. */
function Adopt({ of }: { of: Explanation }) {
  const changes = of.causes.filter((c) => c.key !== 'meter')
  if (changes.length === 0) return null
  const adopt = () => {
    let lamp = design.lamp()
    for (const cause of changes) {
      const made = withCause(lamp, cause, cause.value)
      if (!made.ok) return readings.setState({ why: made.why[0] ?? 'It can’t be adopted.' })
      lamp = made.lamp
    }
    const named = readLamp({ ...lamp, name: `${lamp.name.slice(0, 100)}, as built` })
    if (!named.ok) return
    void storage.add(named.lamp, 'As built')
    readings.setState({ announcement: `${named.lamp.name} has been opened beside the drawn lamp.` })
  }
  return (
    <Button kind="quiet" hint="Opens a copy of the lamp with this value; the drawn one stays" onPress={adopt}>
      Adopt
    </Button>
  )
}
