import type { PreparedSoundRow } from '../../hooks/use-preparing.ts'
import { STEP_NAMES } from './prepared-in-words.ts'

/** What is done to a sound, step by step, each with its numbers and its reason. */
export function RecipeSteps({ steps }: { readonly steps: PreparedSoundRow['steps'] }) {
  const shown = steps.filter(({ inWords }) => inWords !== '')
  if (shown.length === 0) return <p className="quiet">Nothing.</p>
  return (
    <ol className="recipe">
      {shown.map(({ step, inWords, reason, rule }) => (
        <li key={step}>
          <strong>{STEP_NAMES[step]}</strong>
          {inWords.toLowerCase() !== STEP_NAMES[step].toLowerCase() && `: ${inWords}`}
          {rule === 'user' && ' (your own word)'}
          <br />
          <span className="quiet">{reason}</span>
        </li>
      ))}
    </ol>
  )
}
