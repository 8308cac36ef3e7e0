import { expect, test } from 'vitest'
import { htmlPage, htmlText } from '../../../app/boards/html-page.ts'

const page = htmlPage({
  title: 'A <b> & "C"',
  style: 'svg { width: 100%; }',
  main: ['<p>x</p>'],
  footer: 'F',
})

test('a page has a language, a title, one heading of the first order, and what it says in a main part', () => {
  expect(page).toMatch(/^<!doctype html>\n<html lang="en">/)
  expect(page).toContain('<title>A &lt;b&gt; &amp; &quot;C&quot;</title>')
  expect(page.match(/<h1>/g)).toHaveLength(1)
  expect(page).toMatch(/<main>\n<h1>A &lt;b&gt; &amp; &quot;C&quot;<\/h1>\n<p>x<\/p>\n<\/main>/)
})

test('a page is light or dark as the system of its reader is, and dark on white in print', () => {
  expect(page).toContain('color-scheme: light dark')
  expect(page).toMatch(/@media screen and \(prefers-color-scheme: dark\)/)
  expect(page).toMatch(/@media print \{ :root \{ color-scheme: light; \}/)
})

test('a page runs nothing and fetches nothing', () => {
  expect(page).toContain("default-src 'none'; style-src 'unsafe-inline'")
  expect(page).not.toMatch(/<script|<link|<img|url\(|@import|https?:/)
})

test('text in a page is shown as it is, whatever it holds', () => {
  expect(htmlText(`<i>'a'</i> & "b"`)).toBe('&lt;i&gt;&#39;a&#39;&lt;/i&gt; &amp; &quot;b&quot;')
  expect(htmlText('a\u0000b\u001b[31mc\u009bd')).toBe('a\ufffdb\ufffd[31mc\ufffdd')
})
