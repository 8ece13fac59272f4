// The example lamps, each with its section and its plan drawn from the lamp itself, and the first sentence of its note.
import { useMemo } from 'react'
import { Button as AriaButton } from 'react-aria-components'
import type { Lamp } from '../../lamp/schema.ts'
import { DEMOS } from '../../library/demos.ts'
import { planFigure } from '../../report/book/planFigure.ts'
import { sectionFigure } from '../../report/book/sectionFigure.ts'
import { useStorage } from '../store/pageStorage.ts'
import { copyName } from '../store/storedLamps.ts'
import { Picture } from './Picture.tsx'

/** Up to the first full stop that ends a sentence. */
const firstSentence = (note: string): string => /^.*?\.(?=\s|$)/.exec(note)?.[0] ?? note

export function Examples({ onLamp }: { onLamp(lamp: Lamp, label: string): void }) {
  const lamps = useStorage((s) => s.lamps)
  const rows = useMemo(
    () =>
      Object.values(DEMOS).map((make) => {
        const lamp = make()
        return { lamp, section: sectionFigure(lamp, [], { plain: true }), plan: planFigure(lamp, { plain: true }) }
      }),
    [],
  )
  return (
    <ul className="start-examples">
      {rows.map(({ lamp, section, plan }) => (
        <li key={lamp.name}>
          <AriaButton
            className="start-example"
            aria-label={lamp.name}
            translate="no"
            onPress={() =>
              // The lamp that begins so is the builder's: its name and its note are no longer the example's.
              onLamp({ ...lamp, name: copyName(lamp.name, lamps), note: '' }, `Example “${lamp.name}”`)
            }
          >
            <span className="start-paper start-pair">
              <Picture figure={plan} />
              <Picture figure={section} />
            </span>
            <span>
              <strong translate="no">{lamp.name}</strong>
              <span className="start-line">{firstSentence(lamp.note)}</span>
            </span>
          </AriaButton>
        </li>
      ))}
    </ul>
  )
}
