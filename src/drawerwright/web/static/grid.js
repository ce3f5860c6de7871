// A table by keyboard: arrows and Enter move, a paste fills cells to the right and below.

const body = document.body;

function cellAt(table, row, column) {
  return table.querySelector(`[data-row="${row}"][data-column="${column}"]`);
}

body.addEventListener("keydown", (event) => {
  const cell = event.target.closest?.("[data-row][data-column]");
  if (!cell || event.altKey || event.ctrlKey || event.metaKey) return;
  const table = cell.closest("[data-grid]");
  const isText = cell.matches("input:not([type=checkbox]), textarea");
  const atStart = !isText || (cell.selectionStart === 0 && cell.selectionEnd === 0);
  const atEnd = !isText || cell.selectionStart === cell.value.length;
  const allChosen = isText && cell.selectionStart === 0 && cell.selectionEnd === cell.value.length;
  let [row, column] = [Number(cell.dataset.row), Number(cell.dataset.column)];
  if (event.key === "ArrowDown" && cell.tagName !== "SELECT" || event.key === "Enter" && !event.shiftKey) row += 1;
  else if (event.key === "ArrowUp" && cell.tagName !== "SELECT" || event.key === "Enter") row -= 1;
  else if (event.key === "ArrowLeft" && (atStart || allChosen)) column -= 1;
  else if (event.key === "ArrowRight" && (atEnd || allChosen)) column += 1;
  else return;
  const next = cellAt(table, row, column);
  if (!next) return;
  event.preventDefault();
  next.focus();
  next.select?.();
});

body.addEventListener("paste", (event) => {
  const cell = event.target.closest?.("[data-row][data-column]");
  const text = event.clipboardData?.getData("text/plain") ?? "";
  if (!cell || !/[\t\n]/.test(text.trim())) return;
  const table = cell.closest("[data-grid]");
  if (!table.dataset.pasteTo) return;
  event.preventDefault();
  const [row, column] = [Number(cell.dataset.row), Number(cell.dataset.column)];
  window.htmx.ajax("POST", table.dataset.pasteTo, {
    source: table, target: "#messages", swap: "innerHTML",
    values: { text, list: table.dataset.list, row, column, base: table.dataset.base },
  });
});
