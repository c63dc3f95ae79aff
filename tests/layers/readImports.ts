/** One import as written in a file. */
export interface Import {
  readonly specifier: string;
  /** True when nothing of it is left after compiling. */
  readonly typeOnly: boolean;
  readonly line: number;
}

const comment = /\/\*[\s\S]*?\*\/|(?<!["'`:/])\/\/[^\n]*/g;
const statement =
  /(?<![\w$.])(import|export)\s+(type\s+(?!from\b|,))?(?:[\w$*\s{},]*?\sfrom\s*|[\w$*\s{},]*?\}\s*from\s*)?(["'])([^"'\n]+)\3/g;
const call = /(?<![\w$.])(typeof\s+)?(import|require)\s*\(\s*(["'`])([^"'`\n]+)\3\s*[,)]/g;

/**
 * Every import of a source text: statements, re-exports, `import()` as a value or as a type, and `require()`. Reads the
 * text only; comments are skipped. An `import()` counts as a value, since it cannot be told from a type by its looks.
 */
export function readImports(source: string): Import[] {
  const text = source.replace(comment, (found) => found.replace(/[^\n]/g, " "));
  const lineAt = (index: number) => text.slice(0, index).split("\n").length;
  const found: Import[] = [];
  for (const match of text.matchAll(statement))
    found.push({ specifier: match[4] ?? "", typeOnly: match[2] !== undefined, line: lineAt(match.index) });
  for (const match of text.matchAll(call))
    found.push({ specifier: match[4] ?? "", typeOnly: false, line: lineAt(match.index) });
  return found.sort((a, b) => a.line - b.line);
}
