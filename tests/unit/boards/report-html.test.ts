import { describe, expect, test } from 'vitest'
import { boardInWords } from '../../../app/boards/board-words.ts'
import { reportHtml } from '../../../app/boards/report-html.ts'
import { fontLike, judged, type FontChange } from '../../support/judged-font.ts'
import { shippedBoard } from '../../support/shipped-boards.ts'

function page(change: FontChange, licences: [] | null = null): string {
  const edition = fontLike(change)
  const { findings, verdict } = judged(edition, undefined, { licences })
  const font = {
    name: edition.font.name,
    version: edition.version,
    soundCount: edition.soundCount,
    findings,
    verdict,
  }
  const board = shippedBoard('bench-44')
  return reportHtml({
    boardTitle: board.title,
    limits: boardInWords(board),
    fonts: [font],
    toolVersion: '1.2.3',
  })
}

describe('a page for the creator of a font', () => {
  test('says each finding with its sound, its reason and its mend, and what the board accepts', () => {
    const html = page({ sounds: { 'clash-01.wav': { facts: { channels: 2 } } } })
    expect(html).toContain(
      '<td class="path">clash-01.wav</td><td>It has 2 channels (stereo); the board plays 1.</td>',
    )
    expect(html).toContain('Export it again in mono.')
    expect(html).toContain('<li>Sample rate: 44100 Hz.</li>')
    expect(html).toContain('plays once what is found below is mended')
    expect(html).toMatch(/7 sounds, 1 error, 0 warnings, 0 notes\. 1 limit of this board is not known, and/)
    expect(html).not.toContain('Not known.')
  })

  test('holds nothing that runs, and nothing to fetch', () => {
    const html = page({ sounds: { 'clash-01.wav': { measures: { clippedRuns: 3 } } } })
    expect(html).not.toMatch(/<script|javascript:|<img|<link|url\(|@import|\son\w+=|https?:/i)
    expect(html).toContain("default-src 'none'")
  })

  test('shows names that look like markup as they are', () => {
    const html = page({
      name: `<b>"Ember" & 'Zinc'</b>`,
      sounds: { '<img src=x onerror=alert(1)>.wav': { place: null } },
    })
    expect(html).not.toContain('<img')
    expect(html).not.toContain('<b>"')
    expect(html).toContain('&lt;img src=x onerror=alert(1)&gt;.wav')
  })

  test('says nothing of licences: they are between the installer and the creator', () => {
    expect(page({}, [])).not.toMatch(/licence for this font/)
  })

  test('says where nothing was found', () => {
    expect(page({})).toContain('Nothing was found.')
  })
})
