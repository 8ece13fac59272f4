// A disclosure: a heading that opens and closes its content, with a short summary while closed.

import type { ReactNode } from 'react'
import { Button, Disclosure, DisclosurePanel, Heading } from 'react-aria-components'
import { defined } from './defined.ts'
import './ui.css'

export interface GroupProps {
  title: string
  /** Summary of the content, in a few words. */
  summary?: ReactNode
  /** 2 in a column, 3 inside another group. */
  level?: 2 | 3 | 4 | undefined
  isOpen: boolean
  onToggle(open: boolean): void
  children: ReactNode
  id?: string
}

export function Group(p: GroupProps) {
  return (
    <Disclosure
      {...defined({ id: p.id })}
      className={`ui-group ui-group-${p.level ?? 2}`}
      isExpanded={p.isOpen}
      onExpandedChange={p.onToggle}
    >
      <Heading level={p.level ?? 2} className="ui-group-heading">
        <Button slot="trigger" className="ui-group-button">
          <span className="ui-group-mark" aria-hidden="true" />
          <span className="ui-group-title">{p.title}</span>
          {p.summary && <span className="ui-group-gist">{p.summary}</span>}
        </Button>
      </Heading>
      <DisclosurePanel>{p.isOpen && <div className="ui-group-body">{p.children}</div>}</DisclosurePanel>
    </Disclosure>
  )
}
