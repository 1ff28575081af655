// Every step of the work, as whole plan texts with a few words on what was done; back and forward without limit.

/** One job's steps. The first is the text as it was opened. */
export class History {
    constructor(text) {
        this.steps = [{ text, words: "opened", on_trial: false }];
        this.at = 0;
    }

    get text() {
        return this.steps[this.at].text;
    }

    get on_trial() {
        return this.steps[this.at].on_trial;
    }

    /** What going back would undo, or null. */
    get back_words() {
        return this.at > 0 ? this.steps[this.at].words : null;
    }

    /** What going forward would do again, or null. */
    get forward_words() {
        return this.at + 1 < this.steps.length ? this.steps[this.at + 1].words : null;
    }

    /** `on_trial`: it goes again if the plan turns out not to be in order. */
    add(text, words, on_trial = false) {
        if (text === this.text) return;
        this.steps.length = this.at + 1;
        this.steps.push({ text, words, on_trial });
        this.at += 1;
    }

    /** Takes the last step away, as if it had never been. */
    drop() {
        this.steps.length = Math.max(1, this.at);
        this.at = this.steps.length - 1;
    }

    back() {
        if (this.at > 0) this.at -= 1;
    }

    forward() {
        if (this.at + 1 < this.steps.length) this.at += 1;
    }

    all_back() {
        this.at = 0;
    }
}
