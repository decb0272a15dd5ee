// @ts-check
import ts from 'typescript';

/**
 * Puts a counter on every way that a module can take: functions, branches (also those that are not written), loops,
 * cases, and what stands right of a logical operator. The counters are in `globalThis.edges`.
 *
 * @typedef {object} Instrumented
 * @property {string} code
 * @property {number} edges how many counters there are up to here
 * @property {Buffer[]} words texts and large numbers of the module: what an input may have to hold to get on
 */

/**
 * @param {string} source
 * @param {number} [first] the number of the first counter
 * @returns {Instrumented}
 */
export function instrument(source, first = 0) {
  const instrumenter = new Instrumenter(source, first);
  const file = ts.createSourceFile('module.js', source, ts.ScriptTarget.Latest, true, ts.ScriptKind.JS);
  instrumenter.visit(file);
  return { code: instrumenter.code, edges: instrumenter.edges, words: instrumenter.words };
}

class Instrumenter {
  /** @type {{ at: number, text: string }[]} */
  #openings = [];
  /** @type {{ at: number, text: string }[]} */
  #closings = [];
  #source;
  /** @type {Buffer[]} */
  words = [];

  /** @param {string} source @param {number} first */
  constructor(source, first) {
    this.#source = source;
    this.edges = first;
  }

  get code() {
    // What is closed last was opened first; what ends at a place ends before something else begins there.
    const insertions = [...this.#closings.reverse(), ...this.#openings].sort((a, b) => a.at - b.at);
    let code = '';
    let done = 0;
    for (const { at, text } of insertions) {
      code += this.#source.slice(done, at) + text;
      done = at;
    }
    return code + this.#source.slice(done);
  }

  /** @param {ts.Node} node */
  visit(node) {
    if (ts.isFunctionLike(node)) this.#bodyOf(/** @type {ts.FunctionLikeDeclaration} */ (node));
    else if (ts.isIfStatement(node)) this.#branches(node);
    else if (ts.isIterationStatement(node, false)) this.#statement(node.statement);
    else if (ts.isCaseOrDefaultClause(node)) this.#case(node);
    else if (ts.isConditionalExpression(node)) [node.whenTrue, node.whenFalse].map((one) => this.#expression(one));
    else if (ts.isBinaryExpression(node) && isLogical(node)) this.#expression(node.right);
    else if (ts.isCatchClause(node)) this.#statement(node.block);
    else this.#note(node);
    ts.forEachChild(node, (child) => this.visit(child));
  }

  /** @param {ts.FunctionLikeDeclaration} node */
  #bodyOf({ body }) {
    if (body === undefined) return;
    if (ts.isBlock(body)) this.#statement(body);
    else this.#expression(body);
  }

  /** @param {ts.IfStatement} node */
  #branches({ thenStatement, elseStatement, end }) {
    if (elseStatement === undefined) this.#closings.push({ at: end, text: ` else { ${this.#counter()}; }` });
    this.#statement(thenStatement);
    if (elseStatement !== undefined) this.#statement(elseStatement);
  }

  /** @param {ts.Statement} node */
  #statement(node) {
    if (ts.isBlock(node)) this.#openings.push({ at: node.getStart() + 1, text: `${this.#counter()};` });
    else this.#wrap(node, `{ ${this.#counter()}; `, ' }');
  }

  /** @param {ts.CaseOrDefaultClause} node */
  #case({ statements }) {
    const [first] = statements;
    if (first !== undefined) this.#openings.push({ at: first.getStart(), text: `${this.#counter()};` });
  }

  /** @param {ts.Expression} node */
  #expression(node) {
    this.#wrap(node, `(${this.#counter()}, `, ')');
  }

  /** @param {ts.Node} node @param {string} before @param {string} after */
  #wrap(node, before, after) {
    this.#openings.push({ at: node.getStart(), text: before });
    this.#closings.push({ at: node.end, text: after });
  }

  #counter() {
    return `globalThis.edges[${this.edges++}]++`;
  }

  /** @param {ts.Node} node */
  #note(node) {
    if (ts.isStringLiteralLike(node) && !ts.isImportDeclaration(node.parent)) this.words.push(Buffer.from(node.text));
    if (!ts.isNumericLiteral(node) || Number(node.text) < 0x10000 || Number(node.text) > 0xffffffff) return;
    const number = Buffer.alloc(4);
    number.writeUInt32LE(Number(node.text));
    this.words.push(number);
  }
}

/** @param {ts.BinaryExpression} node */
function isLogical({ operatorToken: { kind } }) {
  return [
    ts.SyntaxKind.AmpersandAmpersandToken,
    ts.SyntaxKind.BarBarToken,
    ts.SyntaxKind.QuestionQuestionToken,
  ].includes(kind);
}
