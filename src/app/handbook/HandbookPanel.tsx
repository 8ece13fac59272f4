// The handbook over the view: contents on the left, a page on the right.
import { type MouseEvent, useEffect, useMemo, useRef } from 'react'
import {
  BUILDER_PAGES,
  HANDBOOK_PAGES,
  type HandbookPage,
  handbook,
  openHandbook,
  useHandbook,
} from '../store/handbook.ts'
import { Panel } from '../ui/Panel.tsx'
import { pageHtml } from './pages.ts'
import { turnPictures } from './pictures.ts'
import './handbook.css'

const hide = () => handbook.setState({ open: false })

export default function HandbookPanel() {
  const page = useHandbook((s) => s.page)
  return (
    <Panel of="handbook" title="Handbook" closeName="Close the handbook" hide={hide}>
      <div className="handbook-body">
        <nav aria-label="Pages of the handbook" className="ui-panel-scrolls">
          <Contents title="For a builder" from={0} to={BUILDER_PAGES} />
          <Contents title="The physics behind a figure" from={BUILDER_PAGES} to={HANDBOOK_PAGES.length} />
        </nav>
        <Page page={page} />
      </div>
    </Panel>
  )
}

function Contents({ title, from, to }: { title: string; from: number; to: number }) {
  const page = useHandbook((s) => s.page)
  return (
    <>
      <h3>{title}</h3>
      <ol>
        {HANDBOOK_PAGES.slice(from, to).map(([name, words]) => (
          <li key={name}>
            <button type="button" aria-current={name === page ? 'page' : undefined} onClick={() => openHandbook(name)}>
              {words}
            </button>
          </li>
        ))}
      </ol>
    </>
  )
}

function Page({ page }: { page: HandbookPage }) {
  const html = useMemo(() => pageHtml(page), [page])
  const box = useRef<HTMLElement>(null)
  // biome-ignore lint/correctness/useExhaustiveDependencies: another page begins at its top, with its own pictures
  useEffect(() => {
    box.current?.scrollTo(0, 0)
    if (box.current) void turnPictures(box.current)
  }, [page])
  const follow = (event: MouseEvent) => {
    const link = (event.target as Element).closest('a')
    const name = /^([\w-]+)\.md$/.exec(link?.getAttribute('href') ?? '')?.[1]
    const known = HANDBOOK_PAGES.find(([one]) => one === name)
    if (!known) return
    event.preventDefault()
    openHandbook(known[0])
  }
  return (
    <section
      ref={box}
      className="handbook-page ui-panel-scrolls"
      aria-label="Page of the handbook"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by key
      tabIndex={0}
    >
      {/* biome-ignore lint/a11y/useKeyWithClickEvents: Enter on a link is a click */}
      {/* biome-ignore lint/a11y/noStaticElementInteractions: it follows the links inside */}
      {/* biome-ignore lint/security/noDangerouslySetInnerHtml: the program's own text */}
      <div onClick={follow} dangerouslySetInnerHTML={{ __html: html }} />
    </section>
  )
}
