// Finds work of the engine in scripts of the web side: `node tests/screen_work.js FILE ...` prints it as JSON, each
// {file, line, kind, code}. What counts as such, and how it is told, stands in tests/test_screens.py.

const path = require("node:path");

const WEBUI = path.resolve(__dirname, "../webui");
const ts = require(path.join(WEBUI, "node_modules/typescript"));

// In the unit of measure that a name ends in, or is.
const MEASURE = /(^|_)(mm|um|nm|n|deg|kg|kgf|kn|j|nmm2?|percent|n_per_mm|ms2)$/;
const TIME = /^(at|day|date|time|today|now|received|rebuilt)$|_(at|day|due|time)$/;
const CLOCKS = new Set(["today", "now", "Date.now", "Date.parse"]);
const FIGURES_OF_TEXT = new Set(["Number", "parseFloat", "parseInt"]);
// A figure may be written with as many places as there is room for.
const WRITING = new Set(["Math.round", "Math.floor", "Math.trunc"]);
const SORTING = new Set(["sort", "toSorted", "reverse", "toReversed", "localeCompare"]);
// None, one, several: no limit of a form.
const SEVERAL = 1;

const K = ts.SyntaxKind;
const SUMS = new Set([
  K.PlusToken,
  K.MinusToken,
  K.AsteriskToken,
  K.SlashToken,
  K.PercentToken,
  K.AsteriskAsteriskToken,
]);
const STEPS = new Set([
  K.PlusEqualsToken,
  K.MinusEqualsToken,
  K.AsteriskEqualsToken,
  K.SlashEqualsToken,
  K.PercentEqualsToken,
  K.AsteriskAsteriskEqualsToken,
]);
const ORDERS = new Set([K.LessThanToken, K.GreaterThanToken, K.LessThanEqualsToken, K.GreaterThanEqualsToken]);
const SAME = new Set([
  K.EqualsEqualsToken,
  K.EqualsEqualsEqualsToken,
  K.ExclamationEqualsToken,
  K.ExclamationEqualsEqualsToken,
]);

const options = ts.getParsedCommandLineOfConfigFile(
  path.join(WEBUI, "tsconfig.json"),
  {},
  { ...ts.sys, onUnRecoverableConfigFileDiagnostic: () => {} },
);
const files = process.argv.slice(2).map((file) => path.resolve(file));
const program = ts.createProgram([...options.fileNames, ...files], options.options);
const checker = program.getTypeChecker();
const found = [];

/** What stands in brackets, behind `!`, or in a cast. */
function bare(node) {
  let inner = node;
  while (ts.isParenthesizedExpression(inner) || ts.isNonNullExpression(inner) || ts.isAwaitExpression(inner))
    inner = inner.expression;
  return inner;
}

/** Where a name was declared, through imports. */
function declarationOf(node) {
  let symbol = checker.getSymbolAtLocation(node);
  if (symbol && symbol.flags & ts.SymbolFlags.Alias) symbol = checker.getAliasedSymbol(symbol);
  return symbol?.valueDeclaration ?? symbol?.declarations?.[0];
}

/** The type's property that a destructured name stands for. */
function takenFrom(element) {
  const name = element.propertyName ?? element.name;
  return ts.isIdentifier(name) ? checker.getTypeAtLocation(element.parent).getProperty(name.text) : undefined;
}

const ofTheEngine = (declarations = []) =>
  declarations.some((declared) => declared.getSourceFile().fileName.endsWith("/engine/calculations.d.ts"));

/** Whether a property is a number in what the engine says. */
function engineNumber(symbol, at) {
  return ofTheEngine(symbol?.declarations) && isNumber(checker.getTypeOfSymbolAtLocation(symbol, at));
}

function isNumber(type) {
  const parts = type.isUnion() ? type.types : [type];
  return parts.some((part) => part.flags & ts.TypeFlags.NumberLike);
}

/** The properties that an access by a computed name may reach. */
function reached(access) {
  const type = checker.getTypeAtLocation(access.argumentExpression);
  const names = (type.isUnion() ? type.types : [type]).filter((part) => part.isStringLiteral());
  return names.map((name) => checker.getTypeAtLocation(access.expression).getProperty(name.value));
}

/** Every expression that a value may come from: both sides of `??`, both branches, what a local name was set to. */
function* origins(node, seen = new Set()) {
  const inner = bare(node);
  if (seen.has(inner)) return;
  seen.add(inner);
  yield inner;
  if (ts.isConditionalExpression(inner)) {
    yield* origins(inner.whenTrue, seen);
    yield* origins(inner.whenFalse, seen);
  } else if (ts.isBinaryExpression(inner) && /^(\?\?|\|\||&&)$/.test(inner.operatorToken.getText())) {
    yield* origins(inner.left, seen);
    yield* origins(inner.right, seen);
  } else if (ts.isBinaryExpression(inner) && SUMS.has(inner.operatorToken.kind)) {
    yield* origins(inner.left, seen);
    yield* origins(inner.right, seen);
  } else if (ts.isPrefixUnaryExpression(inner)) yield* origins(inner.operand, seen);
  else if (ts.isCallExpression(inner) && isNumber(checker.getTypeAtLocation(inner)))
    for (const argument of inner.arguments.filter((given) => !readsText(given))) yield* origins(argument, seen);
  else if (ts.isIdentifier(inner)) {
    const declared = declarationOf(inner);
    if (
      declared &&
      ts.isVariableDeclaration(declared) &&
      declared.initializer &&
      !ts.isFunctionLike(declared.initializer)
    )
      yield* origins(declared.initializer, seen);
  }
}

/** Whether it makes a figure of a text. */
const readsText = (node) => ts.isCallExpression(node) && FIGURES_OF_TEXT.has(node.expression.getText());

const nameOf = (node) =>
  ts.isIdentifier(node) ? node.text : ts.isPropertyAccessExpression(node) ? node.name.text : "";

/** A measured value: by the unit in its name, as a number of a result, or read from what was typed. */
function measured(node) {
  return [...origins(node)].some((origin) => {
    if (MEASURE.test(nameOf(origin))) return true;
    if (readsText(origin)) return true;
    if (ts.isPropertyAccessExpression(origin)) return engineNumber(checker.getSymbolAtLocation(origin.name), origin);
    if (ts.isElementAccessExpression(origin)) return reached(origin).some((symbol) => engineNumber(symbol, origin));
    if (!ts.isIdentifier(origin)) return false;
    const declared = declarationOf(origin);
    return declared && ts.isBindingElement(declared) && engineNumber(takenFrom(declared), origin);
  });
}

/** A time or a day: by its name, or from a clock. */
function temporal(node) {
  return [...origins(node)].some(
    (origin) =>
      TIME.test(nameOf(origin)) ||
      (ts.isCallExpression(origin) && CLOCKS.has(origin.expression.getText())) ||
      (ts.isNewExpression(origin) && origin.expression.getText() === "Date"),
  );
}

/** The number that an expression is written as, be it by a name; none where a form's limit is named. */
function literal(node) {
  for (const origin of origins(node)) {
    if (ts.isNumericLiteral(origin)) return Number(origin.text);
    const named = ts.isIdentifier(origin) ? origin : ts.isPropertyAccessExpression(origin) ? origin.name : undefined;
    const declared = named && declarationOf(named);
    if (declared?.getSourceFile().fileName.endsWith("/log/limits.js")) return undefined;
    if (declared && ts.isPropertyAssignment(declared) && ts.isNumericLiteral(bare(declared.initializer)))
      return Number(bare(declared.initializer).text);
  }
  return undefined;
}

const isLimit = (node) => (literal(node) ?? 0) > SEVERAL;

const nothing = (node) => /^(null|undefined|"[^"]*"|true|false)$/.test(bare(node).getText());

/** Whether there is none, one or several of something: that is grammar. */
function countsUp(left, right) {
  const [value, number] = ts.isNumericLiteral(bare(left)) ? [right, left] : [left, right];
  return (
    ts.isNumericLiteral(bare(number)) && Number(bare(number).text) <= SEVERAL && !MEASURE.test(nameOf(bare(value)))
  );
}

/** What a comparison or a sum does that the engine should have said. */
function binary(node) {
  const { left, right, operatorToken } = node;
  const sums = SUMS.has(operatorToken.kind) || STEPS.has(operatorToken.kind);
  const orders = ORDERS.has(operatorToken.kind);
  const same = SAME.has(operatorToken.kind) && !nothing(left) && !nothing(right);
  if (sums && !isNumber(checker.getTypeAtLocation(node))) return undefined;
  if (!sums && countsUp(left, right)) return undefined;
  const either = (what) => what(left) || what(right);
  if ((sums || orders || same) && either(measured)) return "arithmetic";
  if ((sums || orders) && either(temporal)) return "time";
  if (orders && either(isLimit)) return "limit";
  return undefined;
}

function call(node) {
  const name = node.expression.getText();
  const method = ts.isPropertyAccessExpression(node.expression) ? node.expression.name.text : "";
  if (name === "Date.parse" || SORTING.has(method)) return "time";
  if (name.startsWith("Math.") && !WRITING.has(name) && node.arguments.some(measured)) return "arithmetic";
  if (/^Math\.(min|max)$/.test(name) && node.arguments.some(isLimit)) return "limit";
  if (/^(slice|substring|substr)$/.test(method) && node.arguments.length === 2 && isLimit(node.arguments[1]))
    return "limit";
  return undefined;
}

/** A template as it is written, with a mark for each value in it. */
function written(template) {
  return ts.isNoSubstitutionTemplateLiteral(template)
    ? template.text
    : template.head.text + template.templateSpans.map((span) => `\0${span.literal.text}`).join("");
}

function work(node) {
  if (ts.isBinaryExpression(node)) return binary(node);
  if (ts.isCallExpression(node)) return call(node);
  if (ts.isNewExpression(node)) return node.expression.getText() === "Intl.Collator" ? "time" : undefined;
  if (ts.isPropertyAssignment(node))
    return /^(least|most)$/.test(node.name.getText()) && isLimit(node.initializer) ? "limit" : undefined;
  if (ts.isTaggedTemplateExpression(node))
    return /<(input|textarea)\b[^>]*\s(maxlength|minlength|min|max|step)\s*=\s*["']?\d/.test(written(node.template))
      ? "limit"
      : undefined;
  return undefined;
}

/** The shortest code that says it: a whole template would be a page. */
function codeOf(node) {
  const text = ts.isTaggedTemplateExpression(node)
    ? /\w+length\s*=\s*["']?\d+|\b(min|max|step)\s*=\s*["']?\d+/.exec(node.getText())?.[0]
    : node.getText();
  return String(text).replace(/\s+/g, " ");
}

for (const file of files) {
  const source = program.getSourceFile(file);
  const visit = (node) => {
    const kind = work(node);
    if (kind) {
      const line = source.getLineAndCharacterOfPosition(node.getStart()).line + 1;
      found.push({ file, line, kind, code: codeOf(node) });
      // What it is put together from is the same piece of work.
      if (kind === "arithmetic") return;
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
}
console.log(JSON.stringify(found));
