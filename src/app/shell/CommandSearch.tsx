// Finds what the page can do by its words: actions, parts of the lamp, pages of the handbook.
import {
  Autocomplete,
  Dialog,
  Input,
  Menu,
  MenuItem,
  Modal,
  ModalOverlay,
  SearchField,
  Text,
  useFilter,
} from 'react-aria-components'
import { inSystem } from '../../num/quantity.ts'
import { chordText } from '../actions/keys.ts'
import { HANDBOOK_PAGES, openHandbook } from '../store/handbook.ts'
import { openPart } from '../store/openParts.ts'
import { unitSystem } from '../store/unitSystem.ts'
import { ACTIONS } from './actions.ts'
import { page, shell, useShell } from './page.ts'

interface Command {
  id: string
  words: string
  /** Where it belongs. */
  kind: string
  run(): void
}

const apple = typeof navigator !== 'undefined' && /Mac|iPhone|iPad/.test(navigator.userAgent)
const close = () => shell.setState({ search: false })

export function CommandSearch() {
  const open = useShell((s) => s.search)
  return (
    <ModalOverlay
      className="shell-over shell-search-over"
      isDismissable
      isOpen={open}
      onOpenChange={(search) => shell.setState({ search })}
    >
      <Modal className="ui-popover shell-modal shell-search">
        <Dialog aria-label="Search for a command" className="shell-search-body">
          <Search />
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}

function Search() {
  const { contains } = useFilter({ sensitivity: 'base' })
  const commands = [...actionCommands(), ...partCommands(), ...handbookCommands()]
  // Every word typed has to be there, in any order.
  const matches = (text: string, typed: string) => typed.split(/\s+/).every((word) => contains(text, word))
  return (
    <Autocomplete filter={matches}>
      <SearchField aria-label="Search for a command" autoFocus>
        <Input className="ui-input shell-search-input" placeholder="What do you want to do?" />
      </SearchField>
      <Menu
        aria-label="Commands"
        className="shell-search-list"
        items={commands}
        renderEmptyState={() => <p className="shell-quiet">Nothing is called that.</p>}
        onAction={(id) => {
          close()
          commands.find((c) => c.id === id)?.run()
        }}
      >
        {({ id, words, kind }) => (
          <MenuItem id={id} textValue={`${words} ${kind}`} className="shell-search-item">
            <Text slot="label">{words}</Text>
            <Text slot="description">{kind}</Text>
          </MenuItem>
        )}
      </Menu>
    </Autocomplete>
  )
}

const actionCommands = (): Command[] =>
  ACTIONS.filter((a) => a.id !== 'search' && (a.when?.(page) ?? true)).map((a) => ({
    id: `action-${a.id}`,
    words: inSystem(a.label, unitSystem()),
    kind: [a.group, ...a.keys.slice(0, 1).map((k) => chordText(k, apple))].join(' · '),
    run: () => a.run(page),
  }))

/** The groups of the parts column, as they stand there. */
function partCommands(): Command[] {
  const sections = [...document.querySelectorAll<HTMLElement>('section[id^="part-"]')]
  return sections.map((section) => ({
    id: section.id,
    words: section.getAttribute('aria-label') ?? '',
    kind: 'Part of the lamp',
    run: () => {
      openPart(section.id.slice('part-'.length), true)
      section.scrollIntoView({ block: 'start' })
      section.querySelector('button')?.focus()
    },
  }))
}

const handbookCommands = (): Command[] =>
  HANDBOOK_PAGES.map(([name, title]) => ({
    id: `handbook-${name}`,
    words: title,
    kind: 'Handbook',
    run: () => openHandbook(name),
  }))
