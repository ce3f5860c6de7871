// A drawing that has changed a little: where old and new are built alike only the words and attributes that differ are
// put into the page, so that the browser lays out and paints no more than that.

export function retouch(present, drawn) {
  if (present.isEqualNode(drawn)) return;
  if (present.nodeName !== drawn.nodeName) {
    present.replaceWith(drawn);
  } else if (present.nodeType === Node.ELEMENT_NODE) {
    retouchAttributes(present, drawn);
    const [now, next] = [[...present.childNodes], [...drawn.childNodes]];
    next.forEach((node, place) => { if (now[place]) retouch(now[place], node); else present.append(node); });
    for (const left of now.slice(next.length)) left.remove();
  } else if (present.data !== drawn.data) {
    present.data = drawn.data;
  }
}

function retouchAttributes(present, drawn) {
  for (const { name, value } of drawn.attributes) {
    if (present.getAttribute(name) !== value) present.setAttribute(name, value);
  }
  if (present.attributes.length === drawn.attributes.length) return;
  for (const { name } of [...present.attributes]) if (!drawn.hasAttribute(name)) present.removeAttribute(name);
}

// Words that stay the same are not laid out again.
export function write(element, words) {
  if (element.textContent !== words) element.textContent = words;
}
