import type { ReactNode } from 'react'
import { Button, Disclosure, DisclosurePanel, Heading } from 'react-aria-components'
import type { HandbookPage } from '../store/handbook.ts'
import { defined } from '../ui/defined.ts'
import { HandbookLink } from '../ui/HandbookLink.tsx'

/** A part of the sheet that can be folded; in print every part is open. */
export function Part(props: {
  title: string
  aside?: ReactNode
  open?: boolean
  level?: 3 | 4
  id?: string
  children: ReactNode
}) {
  const level = props.level ?? 3
  return (
    <Disclosure
      className={level === 3 ? 'sheet-part' : 'sheet-subpart'}
      defaultExpanded={props.open ?? true}
      {...defined({ id: props.id })}
    >
      <Heading level={level} className="sheet-part-head">
        <Button slot="trigger" className="sheet-fold">
          <span className="sheet-fold-mark" aria-hidden="true" />
          <span className="sheet-fold-title">{props.title}</span>
          <span className="sheet-fold-aside">{props.aside}</span>
        </Button>
      </Heading>
      <DisclosurePanel className="sheet-panel">{props.children}</DisclosurePanel>
    </Disclosure>
  )
}

/** A figure's name, which explains on demand how the figure is computed; `children` are placed between name and explanation. */
export function ExplainedName(props: {
  name: string
  /** A name that the builder gave. */
  asTyped?: boolean
  how: string
  source?: string
  className: string
  level?: 3 | 4 | 5
  /** A note of this run, below the explanation. */
  more?: ReactNode
  /** Of the handbook, on the physics behind it. */
  page?: HandbookPage | undefined
  children: ReactNode
}) {
  return (
    <Disclosure className={props.className}>
      <div className="sheet-how-row">
        <Heading level={props.level ?? 4} className="sheet-how-head">
          <Button
            slot="trigger"
            className="sheet-how"
            aria-label={`${props.name}: how it is computed`}
            translate={props.asTyped ? 'no' : undefined}
          >
            {props.name}
          </Button>
        </Heading>
        {props.children}
      </div>
      <DisclosurePanel className="sheet-panel sheet-how-text">
        <p>{props.how}</p>
        {props.more}
        {props.source && <p className="sheet-source">Source: {props.source}</p>}
        {props.page && <HandbookLink page={props.page} />}
      </DisclosurePanel>
    </Disclosure>
  )
}
