// SPDX-License-Identifier: GPL-3.0-or-later
// Follows the tones anew as a slider moves: the chain of tone_chain.h, on the curves that the page carries as tables.
// Written without the less-than sign, which opens an element in HTML.
'use strict';
(() => {
    const page = id => document.getElementById(id);
    const given = JSON.parse(page('curves').textContent);
    const sliders = ['expose', 'print', 'flare', 'enlarger', 'viewing'];
    const asked = { ...given.asked, chain: given.main };
    let now = { ...asked };

    // Density through flare, and its slope.
    const through = (d, f) => f > 0 ? -Math.log10((10 ** -d + f) / (1 + f)) : d;
    const slopeThrough = (d, f) => 10 ** -d / (10 ** -d + f);

    // Cubic of Hermite between two rows, which hold density and slope; null beyond what was measured.
    function at(curve, x) {
        const n = curve.density.length - 1, t = (x - curve.low) / curve.step;
        if (!(t >= -1e-9 && n + 1e-9 >= t))
            return null;
        const i = Math.max(0, Math.min(Math.floor(t), n - 1)), u = t - i, h = curve.step;
        const a = curve.density[i], b = curve.density[i + 1], p = h * curve.slope[i], q = h * curve.slope[i + 1];
        const c = 3 * (b - a) - 2 * p - q, e = p + q - 2 * (b - a);
        return { density: a + u * (p + u * (c + u * e)), slope: (p + u * (2 * c + u * 3 * e)) / h };
    }

    // Where a curve has a density, by halving; null where it has it nowhere.
    function logH(curve, density) {
        const n = curve.density.length - 1, falling = curve.density[0] > curve.density[n];
        const denser = x => falling === (density > at(curve, x).density);
        const ends = [curve.density[0], curve.density[n]];
        if (Math.min(...ends) > density || density > Math.max(...ends))
            return null;
        let low = curve.low, high = curve.low + curve.step * n;
        for (let i = 60; i > 0; i--) {
            const middle = low + (high - low) / 2;
            if (denser(middle))
                high = middle;
            else
                low = middle;
        }
        return low;
    }

    // What film and enlarger make of a tone.
    function onFilm(chain, set, scene) {
        const x = chain.white + set.expose * given.stop - through(-scene, set.flare), film = at(chain.film, x);
        if (!film)
            return { x };
        const dense = given.callier * film.density;
        return { x, film, seen: through(dense, set.enlarger),
            slopes: [slopeThrough(-scene, set.flare), film.slope, given.callier * slopeThrough(dense, set.enlarger)] };
    }

    // The print's exposure, from that which gives the placed tone its density; and the density that it comes to there.
    function place(chain, set) {
        const tone = onFilm(chain, set, -given.place.stops * given.stop);
        if (!tone.film)
            return { why: 'The tone that sets the exposure of the print falls outside what was measured of the film.' };
        const x = logH(chain.paper, chain.zero + given.place.density);
        if (x === null)
            return { why: 'The paper does not reach the density of the placed tone within what was measured.' };
        const exposed = x + set.print * given.stop, print = at(chain.paper, exposed);
        return { logH: exposed + tone.seen,
            density: set.print === 0 ? given.place.density : print ? print.density - chain.zero : null };
    }

    // What is kept, or which link does least of the best that it could do.
    function fate(chain, tone) {
        if (!tone.film)
            return 'beyondFilm';
        if (!tone.print)
            return 'beyondPaper';
        if (tone.gradient >= given.detail)
            return 'kept';
        if (given.detail > chain.best[0] * chain.best[1] * given.callier)
            return 'contrast';
        const share = tone.slopes.map(Math.abs);
        share[1] /= chain.best[0];
        share[2] /= given.callier;
        share[3] /= chain.best[1];
        switch (share.indexOf(Math.min(...share))) {
        case 0: return 'camera';
        case 1: return chain.middle[0] > tone.film.density ? 'filmToe' : 'filmShoulder';
        case 2: return 'enlarger';
        case 3: return chain.middle[1] > tone.print.density ? 'paperToe' : 'paperShoulder';
        default: return 'viewing';
        }
    }

    function lightness(density) {
        const y = 10 ** -density;
        return y > 216 / 24389 ? 116 * Math.cbrt(y) - 16 : y * 24389 / 27;
    }

    function follow(chain, set, printLogH, scene) {
        const tone = { scene, ...onFilm(chain, set, scene) };
        tone.print = tone.film ? at(chain.paper, printLogH - tone.seen) : null;
        if (tone.print) {
            tone.viewed = through(tone.print.density, set.viewing);
            tone.slopes.push(tone.print.slope, slopeThrough(tone.print.density, set.viewing));
            tone.gradient = tone.slopes.reduce((a, b) => a * b, 1);
        }
        tone.fate = fate(chain, tone);
        return tone;
    }

    // ---- what is shown

    function cell(row, value, decimals) {
        const td = row.appendChild(document.createElement('td'));
        td.className = 'r';
        if (value === undefined) {
            td.textContent = '-';
            return;
        }
        const data = td.appendChild(document.createElement('data'));
        data.value = value.toFixed(6);
        data.textContent = value.toFixed(decimals).replace(/^-(0\.?0*)$/, '$1');
    }

    function showRow(tone) {
        const row = document.createElement('tr'), head = row.appendChild(document.createElement('th'));
        head.scope = 'row';
        head.textContent = tone.scene > -1e-9 ? 'white' : (tone.scene / given.stop).toFixed(1);
        cell(row, tone.x, 2);
        cell(row, tone.film?.density, 2);
        cell(row, tone.print?.density, 2);
        cell(row, tone.viewed, 2);
        cell(row, tone.viewed === undefined ? undefined : lightness(tone.viewed), 1);
        cell(row, tone.gradient, 2);
        row.appendChild(document.createElement('td')).textContent = given.fates[tone.fate];
        return row;
    }

    // Light at the top, as in the plot above. The picture spans the papers' own densities, so that it stands still while
    // the line moves.
    const left = 56, right = 620, top = 16, bottom = 316, points = 300;
    const shown = Math.max(...given.chains.flatMap(c => c.paper.density)) * 1.04;
    const across = scene => right + (right - left) * scene / given.range;
    const down = density => top + (bottom - top) * density / shown;

    function line(set, printLogH) {
        let path = '', pen = 'M';
        for (let i = 0; points >= i; i++) {
            const scene = -given.range * i / points, tone = follow(given.chains[set.chain], set, printLogH, scene);
            if (tone.print)
                path += pen + across(scene).toFixed(2) + ' ' + down(tone.viewed).toFixed(2);
            pen = tone.print ? 'L' : 'M';
        }
        return path;
    }

    function drawing(name, attributes, text) {
        const element = document.createElementNS('http://www.w3.org/2000/svg', name);
        for (const [key, value] of Object.entries(attributes))
            element.setAttribute(key, value);
        if (text)
            element.textContent = text;
        page('moved-axes').appendChild(element);
    }

    function drawAxes() {
        for (let d = 0; shown >= d; d += 0.5) {
            drawing('path', { d: `M${left} ${down(d)}H${right}`, class: 'grid' });
            drawing('text', { x: left - 6, y: down(d) + 4, 'text-anchor': 'end' }, d.toFixed(1));
        }
        for (let s = 0; given.range / given.stop + 1e-9 >= s; s++) {
            drawing('path', { d: `M${across(-s * given.stop)} ${top}V${bottom}`, class: 'grid' });
            drawing('text', { x: across(-s * given.stop), y: bottom + 16, 'text-anchor': 'middle' }, s ? String(-s) : 'white');
        }
    }

    const unit = {
        expose: v => `${v > 0 ? '+' : ''}${v.toFixed(2)} stops`, print: v => `${v > 0 ? '+' : ''}${v.toFixed(2)} stops`,
        flare: v => `${(100 * v).toFixed(2)} % of white`, enlarger: v => `${(100 * v).toFixed(2)} % of open light`,
        viewing: v => `${(100 * v).toFixed(2)} % of a perfect white`
    };

    // The options that make the program say the same, or why it would not.
    function command(placed) {
        const density = placed.density;
        if (density === null)
            return 'At this exposure the placed tone prints beyond what was measured of the paper.';
        if (given.place.least > density || density > given.place.most)
            return `--place takes ${given.place.least} to ${given.place.most} D, and the placed tone would print at ` +
                `${density.toFixed(4)} D above paper white.`;
        const number = v => String(Number(v.toFixed(6)));
        return `--expose ${number(now.expose)} --flare ${number(now.flare)} --enlarger-flare ${number(now.enlarger)} ` +
            `--viewing-flare ${number(now.viewing)} --place ${number(given.place.stops)}=${number(density)}`;
    }

    function show() {
        const chain = given.chains[now.chain], placed = place(chain, now), asIs = place(chain, { ...asked, chain: now.chain });
        const rows = placed.why ? [] : given.scenes.map(s => follow(chain, now, placed.logH, s));
        for (const name of sliders) {
            page('set-' + name).setAttribute('aria-valuetext', unit[name](now[name]));
            page('of-' + name).textContent = unit[name](now[name]);
        }
        page('moved-rows').replaceChildren(...rows.map(showRow));
        page('asked-line').setAttribute('d', asIs.why ? '' : line({ ...asked, chain: now.chain }, asIs.logH));
        page('moved-line').setAttribute('d', placed.why ? '' : line(now, placed.logH));
        page('moved-says').textContent = placed.why ?? '';
        page('moved-options').textContent = placed.why ? '' : command(placed);
    }

    // A slider stands on its steps, what was asked for need not: it counts until it is moved.
    function start() {
        now = { ...asked };
        for (const name of sliders)
            page('set-' + name).value = now[name];
        page('set-chain').value = now.chain;
        show();
    }

    for (const name of [...sliders, 'chain'])
        page('set-' + name).addEventListener('input', event => {
            now[name] = Number(event.target.value);
            show();
        });
    page('set-back').addEventListener('click', start);
    drawAxes();
    page('sliders').hidden = false;
    start();
})();
