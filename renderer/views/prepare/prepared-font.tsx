import { Link } from 'wouter'
import { counted, fontInWords, measuredInWords } from '../../elements/in-words.ts'
import { Note } from '../../elements/note.tsx'
import { VerdictMark } from '../../elements/verdict-mark.tsx'
import { useKept } from '../../hooks/use-kept.ts'
import type { PreparedFontRow } from '../../hooks/use-preparing.ts'
import { choicesOfSound, type KeptChoice } from './prepared-in-words.ts'
import { HEADS, PreparedSoundLine } from './prepared-sound-line.tsx'

interface PreparedFontProps {
  readonly font: PreparedFontRow
  readonly boardId: string
  readonly isDryRun: boolean
  /** The only one of the run: open from the beginning. */
  readonly isAlone: boolean
  readonly choices: readonly KeptChoice[]
  readonly onChosen: () => void
}

/** One font of a run: its verdict and loudness before and after, and a table of its sounds. */
export function PreparedFont(props: PreparedFontProps) {
  const { font, boardId, isDryRun, isAlone, choices, onChosen } = props
  const keptAs = `cardwright-prepare-open ${font.editionId} ${isAlone ? 'alone' : 'among others'}`
  const [isOpen, setIsOpen] = useKept(keptAs, isAlone)
  const own = choices.filter(({ editionId }) => editionId === font.editionId)
  const hasWork = (sound: PreparedFontRow['sounds'][number]) =>
    sound.state !== 'unchanged' ||
    sound.wrong.length > 0 ||
    sound.told.length > 0 ||
    choicesOfSound(own, sound).length > 0
  const worked = font.sounds.filter(hasWork)
  const idle = font.sounds.filter((sound) => !hasWork(sound))
  const withoutRole = font.sounds.filter(({ role }) => role === null)
  const name = fontInWords(font.font, font.version)
  return (
    <details
      className="sheet prepared-font"
      open={isOpen}
      onToggle={(event) => setIsOpen(event.currentTarget.open)}
    >
      <summary>
        <span>
          <strong>{name}</strong>
        </span>
        <span>
          <VerdictWas font={font} isDryRun={isDryRun} />
          <VerdictMark verdict={isDryRun ? font.verdictBefore : font.verdictAfter} />
        </span>
        <span className="quiet whole">{humInWords(font)}</span>
      </summary>
      {isOpen && (
        <div className="sheet-stack">
          {font.gainDb !== null && (
            <p>
              One gain for the whole font, from its hums: {font.gainDb > 0 ? '+' : ''}
              {measuredInWords(font.gainDb, 'dB')}. Effects keep their distance to the hum.
            </p>
          )}
          {font.told.map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
          {font.folder !== null && (
            <p>
              Written as <span className="mono break">{font.folder}</span>
            </p>
          )}
          {withoutRole.length > 0 && (
            <Note tone="care" title={`Role not known: ${counted(withoutRole.length, 'sound')}`}>
              Without a role a sound is not prepared, and gets no name on a card.{' '}
              <Link href={`/fonts/${font.editionId}`}>Tell the roles of this font</Link> first.
            </Note>
          )}
          {!isDryRun && <StillWrong font={font} />}
          {worked.length > 0 && (
            <div className="table-frame">
              {/* Roles told outright hold where a narrow window lays the rows out otherwise. */}
              <table role="table" className="table prepared-table" aria-label={`Sounds of ${name}`}>
                <thead>
                  <tr>
                    <th>{HEADS.sound}</th>
                    <th>{HEADS.wrong}</th>
                    <th>{isDryRun ? HEADS.toDo : HEADS.done}</th>
                    <th>{HEADS.change}</th>
                  </tr>
                </thead>
                <tbody role="rowgroup">
                  {worked.map((sound) => (
                    <PreparedSoundLine
                      key={sound.path}
                      editionId={font.editionId}
                      boardId={boardId}
                      sound={sound}
                      isMade={!isDryRun}
                      choices={choicesOfSound(own, sound)}
                      onChosen={onChosen}
                    />
                  ))}
                </tbody>
              </table>
            </div>
          )}
          {idle.length > 0 && (
            <details>
              <summary>{counted(idle.length, 'sound')} right as they are</summary>
              <p className="mono break">{idle.map(({ path }) => path).join(', ')}</p>
            </details>
          )}
        </div>
      )}
    </details>
  )
}

/** That a verdict is of the font as it came, or from which one it has come to this. */
function VerdictWas({ font, isDryRun }: Pick<PreparedFontProps, 'font' | 'isDryRun'>) {
  const { verdictBefore, verdictAfter } = font
  if (isDryRun) return <span className="quiet">as it came </span>
  if (verdictBefore.word === verdictAfter.word) return null
  return (
    <span className="quiet">
      {verdictBefore.word} <span aria-hidden="true">→</span>
      <span className="only-heard">became</span>{' '}
    </span>
  )
}

/** A font of hundreds of sounds may miss a limit with each: the table below tells it of each again. */
const MOST_AT_ONCE = 8

function StillWrong({ font }: { readonly font: PreparedFontRow }) {
  const more = font.stillWrong.slice(MOST_AT_ONCE)
  if (font.stillWrong.length === 0 && font.verdictAfter.word === 'ready') {
    return <Note tone="good" title="Nothing is wrong any more for this board." />
  }
  return (
    <Note
      tone={font.verdictAfter.word === 'ready' ? 'care' : 'bad'}
      title={`Still so: ${counted(font.stillWrong.length, 'finding')}`}
    >
      <Findings findings={font.stillWrong.slice(0, MOST_AT_ONCE)} />
      {more.length > 0 && (
        <details>
          <summary>{more.length} more</summary>
          <Findings findings={more} />
        </details>
      )}
    </Note>
  )
}

function Findings({ findings }: { readonly findings: PreparedFontRow['stillWrong'] }) {
  return (
    <ul>
      {findings.map(({ rule, path, message }) => (
        <li key={`${rule} ${path} ${message}`}>
          {path !== null && <span className="mono">{path}: </span>}
          {message}
        </li>
      ))}
    </ul>
  )
}

function humInWords({ humBeforeLufs, humAfterLufs }: PreparedFontRow): string {
  if (humBeforeLufs === null || humAfterLufs === null) return 'no hum to be even by'
  const [before, after] = [humBeforeLufs, humAfterLufs].map((lufs) => measuredInWords(lufs, 'LUFS'))
  return before === after ? `hum ${before}, as it was` : `hum ${before} → ${after}`
}
