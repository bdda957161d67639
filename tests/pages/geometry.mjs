// What is measured inside the browser. Functions here are sent there as they stand: they use nothing around them.

/** The first of many faults of one kind of thing, and how many there are. */
export function shorten(faults, most = 8) {
  return faults.length <= most ? faults : [...faults.slice(0, most), `and ${faults.length - most} faults more`];
}

/** Faults of one picture: texts over texts, beyond the edge or under lines, too little contrast, series that look alike. */
export function lookAt(svg, { lines, ground }) {
  const faults = [];
  const box = svg.viewBox.baseVal;
  const away = svg.getScreenCTM().inverse();
  const short = (element) => JSON.stringify((element.firstElementChild?.tagName === "title"
    ? [...element.childNodes].filter((node) => node.nodeType === 3).map((node) => node.data).join("")
    : element.textContent).trim().slice(0, 60));
  const middle = (one) => new DOMPoint((one.left + one.right) / 2, (one.top + one.bottom) / 2);
  const place = (element) => {
    const own = element.getBBox();
    const matrix = away.multiply(element.getScreenCTM());
    const corners = [[0, 0], [1, 0], [0, 1], [1, 1]].map(([x, y]) =>
      new DOMPoint(own.x + x * own.width, own.y + y * own.height).matrixTransform(matrix));
    const [xs, ys] = [corners.map((one) => one.x), corners.map((one) => one.y)];
    return { element, left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) };
  };
  const texts = [...svg.querySelectorAll("text")].filter((text) => text.textContent.trim() !== "").map(place);
  for (const one of texts) {
    if (one.left < box.x - 0.5 || one.top < box.y - 1 || one.right > box.x + box.width + 0.5
      || one.bottom > box.y + box.height + 1) faults.push(`text ${short(one.element)} is outside its picture`);
  }
  texts.forEach((one, at) => {
    for (const other of texts.slice(at + 1)) {
      const wide = Math.min(one.right, other.right) - Math.max(one.left, other.left);
      const high = Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top);
      if (wide > 1 && high > 1) {
        faults.push(`texts ${short(one.element)} and ${short(other.element)} overlap by ${wide.toFixed(1)} × ${high.toFixed(1)}`);
      }
    }
  });
  // Lines keep clear of letters: from the height of capitals to the line that letters stand on.
  const struck = (line, text) => {
    const matrix = away.multiply(line.getScreenCTM());
    const [top, bottom] = [text.top + 3, text.bottom - 3];
    for (let along = 0, length = line.getTotalLength(); along <= length; along += 1.5) {
      const at = line.getPointAtLength(along).matrixTransform(matrix);
      if (at.x > text.left + 1 && at.x < text.right - 1 && at.y > top && at.y < bottom) return at;
    }
    return null;
  };
  for (const line of lines ? svg.querySelectorAll(lines) : []) {
    const own = place(line);
    for (const text of texts) {
      if (own.right < text.left || own.left > text.right || own.bottom < text.top || own.top > text.bottom) continue;
      const at = struck(line, text);
      if (at) faults.push(`line ${line.getAttribute("class")} passes through text ${short(text.element)} at ${at.x.toFixed(0)}, ${at.y.toFixed(0)}`);
    }
  }
  // Contrast, which axe cannot judge here: of letters against the last thing painted under their middle.
  const colour = (text) => {
    const found = text.match(/[\d.]+/g)?.map(Number) ?? [0, 0, 0, 0];
    return { rgb: found.slice(0, 3), alpha: found[3] ?? 1 };
  };
  const over = (top, under, share) => top.map((value, at) => value * share + under[at] * (1 - share));
  const bright = (rgb) => {
    const [r, g, b] = rgb.map((value) => (value <= 10.3148 ? value / 255 / 12.92 : ((value / 255 + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const shapes = [...svg.querySelectorAll("rect,circle,ellipse,path,polygon")]
    .filter((shape) => getComputedStyle(shape).fill !== "none").map(place);
  let worst = Infinity;
  for (const one of texts) {
    let under = colour(ground ?? getComputedStyle(document.body).backgroundColor).rgb;
    const at = middle(one);
    for (const shape of shapes) {
      if (!(shape.element.compareDocumentPosition(one.element) & Node.DOCUMENT_POSITION_FOLLOWING)) continue;
      if (at.x < shape.left || at.x > shape.right || at.y < shape.top || at.y > shape.bottom) continue;
      const inner = at.matrixTransform(away.multiply(shape.element.getScreenCTM()).inverse());
      if (!shape.element.isPointInFill(inner)) continue;
      const style = getComputedStyle(shape.element);
      const fill = colour(style.fill);
      under = over(fill.rgb, under, fill.alpha * style.fillOpacity * style.opacity);
    }
    const style = getComputedStyle(one.element);
    const fill = colour(style.fill);
    const [a, b] = [bright(over(fill.rgb, under, fill.alpha * style.fillOpacity * style.opacity)), bright(under)];
    const contrast = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    worst = Math.min(worst, contrast);
    if (contrast < 4.5) faults.push(`text ${short(one.element)} has a contrast of ${contrast.toFixed(2)}`);
  }
  // Series without colour: dashes and forms of the lines, and forms of the markers beside them.
  const kinds = [];
  for (const at of [1, 2, 3, 4, 5]) {
    const signs = new Set();
    for (const line of svg.querySelectorAll(`.s${at}`)) {
      const style = getComputedStyle(line);
      const form = line.matches(".whole,.mark") ? (line.getAttribute("d") ?? "").replace(/[^A-Za-z]/g, "").slice(0, 4) : "";
      signs.add(`${line.tagName} ${style.strokeDasharray} ${form}`);
    }
    for (const marker of svg.querySelectorAll(`.f${at}:not(.veil)`)) {
      signs.add(`${marker.tagName} ${(marker.getAttribute("d") ?? "").replace(/[^A-Za-z]/g, "")}`);
    }
    if (signs.size > 0) kinds.push([at, [...signs].sort().join("; ")]);
  }
  const curves = (at) => new Set([...svg.querySelectorAll(`path.s${at}`)]
    .filter((path) => (path.getAttribute("d").match(/L/g) ?? []).length > 1)
    .map((path) => getComputedStyle(path).strokeDasharray));
  for (const [at] of kinds) {
    for (const [other] of kinds.filter(([other]) => other > at)) {
      const both = [...curves(at)].filter((dash) => curves(other).has(dash));
      if (both.length > 0) faults.push(`lines of series ${at} and ${other} have the same dash ${both.join(", ")}`);
    }
  }
  kinds.forEach(([at, sign], place) => {
    for (const [other, same] of kinds.slice(place + 1)) {
      if (sign === same) faults.push(`series ${at} and ${other} differ by colour alone: ${sign}`);
    }
  });
  return { faults: [...new Set(faults)], texts: texts.length, worst };
}

/** Elements that stick out of the page; on paper nothing may, on a screen what is in a box that scrolls may. */
export function sticksOut(paper) {
  const root = document.documentElement;
  const faults = [];
  if (root.scrollWidth > root.clientWidth) faults.push(`the page is ${root.scrollWidth} wide in ${root.clientWidth}`);
  for (const element of document.body.querySelectorAll("*")) {
    if (element.ownerSVGElement || ["SCRIPT", "STYLE"].includes(element.tagName)) continue;
    if (!paper && element.parentElement.closest(".scroll")) continue;
    const { left, right, width } = element.getBoundingClientRect();
    if (width > 0 && (right > root.clientWidth + 0.6 || left < -0.6)) {
      const own = element.closest("section")?.id ?? "page";
      faults.push(`${own}: <${element.tagName.toLowerCase()} class="${element.getAttribute("class") ?? ""}"> `
        + `${JSON.stringify(element.textContent.trim().slice(0, 40))} reaches ${left.toFixed(0)} to ${right.toFixed(0)} of ${root.clientWidth}`);
    }
  }
  return faults.slice(0, 8);
}

/** Names and links of the page, and everything that would be fetched from elsewhere. */
export function references() {
  const faults = [];
  const ids = new Map();
  for (const element of document.querySelectorAll("[id]")) ids.set(element.id, (ids.get(element.id) ?? 0) + 1);
  for (const [id, count] of ids) if (count > 1) faults.push(`id ${id} stands ${count} times`);
  for (const element of document.querySelectorAll("*")) {
    for (const { name, value } of element.attributes) {
      if (name.startsWith("on")) faults.push(`<${element.tagName}> has a handler ${name}`);
      if (["aria-labelledby", "aria-describedby", "for"].includes(name)) {
        for (const id of value.split(/\s+/)) if (!ids.has(id)) faults.push(`${name} ${id} leads nowhere`);
      }
      if (["href", "xlink:href"].includes(name)) {
        if (!value.startsWith("#")) faults.push(`link ${value} leaves the file`);
        else if (ids.get(decodeURIComponent(value.slice(1))) !== 1) faults.push(`link ${value} leads nowhere`);
      }
      if (["src", "srcset", "action", "formaction", "poster", "data", "background", "ping"].includes(name)) {
        faults.push(`<${element.tagName}> refers to ${name}=${value}`);
      }
      if (name === "style" && /url\(/i.test(value)) faults.push(`style ${value} refers to something`);
    }
  }
  for (const style of document.querySelectorAll("style")) {
    if (/url\(|@import|image-set\(/i.test(style.textContent)) faults.push("a style sheet refers to something");
  }
  for (const script of document.querySelectorAll("script")) {
    if (/fetch\(|XMLHttpRequest|WebSocket|import\b|sendBeacon|https?:/.test(script.textContent)) faults.push("the script asks for something");
  }
  if (document.querySelectorAll("img,iframe,object,embed,link,base,form,audio,video,foreignObject").length > 0) {
    faults.push("there is an element that the report does not have");
  }
  if (document.scripts.length !== 1) faults.push(`there are ${document.scripts.length} scripts`);
  return faults;
}
