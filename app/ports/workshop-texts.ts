/** The boards and schemes that people keep in their workshop, as texts. */
export interface WorkshopTexts {
  /**
   * Keeps the text of a board; whole or not at all.
   * @returns where it lies
   * @throws AppError `board/exists` where one lies there and `replace` is false; `board/shipped`;
   *   `workshop/no-permission`, `workshop/disk-full`
   */
  keepBoard(boardId: string, text: string, replace: boolean): Promise<string>
  /** As `keepBoard`, with codes `scheme/...`; a kept scheme is never replaced. */
  keepScheme(schemeId: string, text: string): Promise<string>
}
