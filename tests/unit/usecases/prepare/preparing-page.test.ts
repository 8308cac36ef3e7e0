import { describe, expect, test } from 'vitest'
import { preparingPage } from '../../../../app/usecases/prepare/preparing-page.ts'
import { dryRunReport, failedSound, preparedReport } from '../../../support/prepared-report.ts'

/** Texts of the cells of a row, by what its first cell says. */
function rowOf(html: string, head: string): readonly string[] {
  const row = html.split('\n').find((line) => line.startsWith('<tr>') && line.includes(`>${head}</th>`))
  return [...(row ?? '').matchAll(/<td>(.*?)<\/td>/g)].map((match) => match[1] ?? '')
}

describe('the page of what was prepared', () => {
  const html = preparingPage(preparedReport)

  test('tells how many sounds, what to mind, how even the hums are, and the words it followed', () => {
    expect(html).toContain('<title>Prepared for Bench 44</title>')
    expect(html).toContain('<p>Sounds for bench-44: 12 made, 1 left as it is.</p>')
    expect(html).toContain('<strong>Caution:</strong> Play them quietly the first time.')
    expect(html).toContain(
      'Hums of these fonts differed by 21.6 LU and now differ by 0.0 LU (the board allows 1 LU), as heard through a speaker from 250 Hz up.',
    )
    expect(html).toContain('<li>Ember &amp; Ash v2, clash: gain set to −3 dB</li>')
  })

  test('has every font in one table: verdicts, hums and gain', () => {
    expect(rowOf(html, 'Ember &amp; Ash v2')).toEqual([
      'fixable: 1 error',
      'ready: 1 warning',
      '−14.5',
      '−22.0',
      '−7.5',
    ])
    expect(rowOf(html, 'Other').slice(3)).toEqual(['–', '–'])
  })

  test('has each sound with what was wrong, what was done, before and after, and what is still so', () => {
    expect(rowOf(html, 'clash &lt;1&gt;.wav')).toEqual([
      'The sample rate is 48000 Hz; the board plays 44100 Hz.',
      '48000 → 44100 Hz',
      '48000 → 44100 Hz<br>−23.0 → −20.0 LUFS',
    ])
    expect(html).toContain('Still so: boot.wav: Its level is −6 LUFS.')
    expect(html).toContain('Right as it is: <span class="path">swing.wav</span>')
  })

  test('tells of a sound that could not be made why, and no step as done', () => {
    const [font] = preparedReport.fonts
    const failed = { ...preparedReport, fonts: [{ ...font!, sounds: [failedSound] }] }
    const [, done, change] = rowOf(preparingPage(failed), 'clash &lt;1&gt;.wav')
    expect([done, change]).toEqual(['Not made: ffmpeg could not be run. Install ffmpeg.', ''])
  })

  test('says so where nothing was done about what was wrong', () => {
    const [font] = preparedReport.fonts
    const [clash] = font!.sounds
    const left = { ...clash!, state: 'unchanged', steps: [], after: null } as const
    const html = preparingPage({ ...preparedReport, fonts: [{ ...font!, sounds: [left] }] })
    expect(rowOf(html, 'clash &lt;1&gt;.wav')[1]).toBe('Left as it is.')
  })

  test('names sounds without a role: they are not prepared', () => {
    expect(html).toContain('Role not known: <span class="path">thud.wav</span>')
  })

  test('tells its picture to those who do not see it, and its tables by their headings', () => {
    expect(html).toMatch(/<svg [^>]*role="img" aria-label="Loudness of 2 fonts before and after; [^"]+"/)
    for (const [, head] of html.matchAll(/<th( [^>]*)?>/g)) expect(head).toMatch(/scope="(col|row)"/)
    const ids = [...html.matchAll(/ id="([^"]+)"/g)].map((match) => match[1])
    expect(new Set(ids).size).toBe(ids.length)
    for (const [, id] of html.matchAll(/aria-labelledby="([^"]+)"/g)) expect(ids).toContain(id)
  })
})

describe('the page of a dry run', () => {
  const html = preparingPage(dryRunReport)

  test('says that nothing was made', () => {
    expect(html).toContain('<title>What preparing for Bench 44 would do</title>')
    expect(html).toContain('1 would be made')
    expect(html).toContain('and would then differ by 0.0 LU')
    expect(html).toContain('What would be done')
    expect(html).toContain('as it would be')
    expect(html).not.toMatch(/Prepared for|What was done|now differ|[Hh]um after/)
  })

  test('does not call still so what nobody has touched yet', () => {
    expect(html).not.toMatch(/Still so|Would stay so/)
  })
})
