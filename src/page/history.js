// Undo history: every step as a whole plan text with a short description; unlimited undo and redo.

/** The steps of one job. The first is the text as it was opened. */
export class History {
    constructor(text) {
        this.steps = [{ text, description: "opened", provisional: false }];
        this.index = 0;
    }

    get text() {
        return this.steps[this.index].text;
    }

    get provisional() {
        return this.steps[this.index].provisional;
    }

    /** What undo would take back, or null. */
    get undo_description() {
        return this.index > 0 ? this.steps[this.index].description : null;
    }

    /** What redo would do again, or null. */
    get redo_description() {
        return this.index + 1 < this.steps.length ? this.steps[this.index + 1].description : null;
    }

    /** `provisional`: dropped again if the plan turns out to be invalid. */
    add(text, description, provisional = false) {
        if (text === this.text) return;
        this.steps.length = this.index + 1;
        this.steps.push({ text, description, provisional });
        this.index += 1;
    }

    /** Removes the last step as if it had never been. */
    drop_last() {
        this.steps.length = Math.max(1, this.index);
        this.index = this.steps.length - 1;
    }

    undo() {
        if (this.index > 0) this.index -= 1;
    }

    redo() {
        if (this.index + 1 < this.steps.length) this.index += 1;
    }

    undo_all() {
        this.index = 0;
    }
}
