// What a reader could not read, and which later mistakes only follow from it.
#include "fadewright/text/schema.h"

#include <catch2/catch.hpp>

#include <memory>
#include <optional>
#include <string>
#include <vector>

using namespace fadewright;

namespace {

struct Leaf {
    int count = 0;
    std::string label;
    SourceSpan span;
};

struct Tree {
    std::optional<Leaf> leaf;
    std::vector<Leaf> leaves;
    std::vector<Named<Leaf>> named;
    std::vector<Named<double>> parts;
    int height = 1;
    SourceSpan span;
};

}  // namespace

namespace fadewright {
template <>
struct Schema<Leaf> {
    static constexpr std::string_view name = "leaf";
    static constexpr std::string_view about = "a leaf";
    static constexpr auto fields = Fields{Field{"count", &Leaf::count, required, range(0, 9), "how many"},
                                          Field{"label", &Leaf::label, optional, "what it is called"}};
};
template <>
struct Schema<Tree> {
    static constexpr std::string_view name = "tree";
    static constexpr std::string_view about = "a tree";
    static constexpr auto fields = Fields{Field{"leaf", &Tree::leaf, optional, "one leaf"},
                                          Field{"leaves", &Tree::leaves, optional, items(0, 2), "its leaves"},
                                          Field{"named", &Tree::named, optional, "leaves by name"},
                                          Field{"parts", &Tree::parts, optional, "parts"},
                                          Field{"height", &Tree::height, optional, "how high"}};
};
}  // namespace fadewright

namespace {

struct TreeReading {
    Tree tree;
    UnreadFields unread;
    std::size_t errors = 0;
};

TreeReading read_tree(const std::string& text) {
    TreeReading out;
    Diagnostics diagnostics;
    const auto toml = read_toml(std::make_shared<Source>("tree.toml", text), diagnostics);
    REQUIRE(toml);
    ReadContext context{diagnostics};
    const bool complete = read_struct(*toml, out.tree, context);
    CHECK(complete == context.unread.empty());
    out.unread = context.unread;
    out.errors = diagnostics.error_count();
    return out;
}

}  // namespace

TEST_CASE("nothing is unread in a text without mistakes", "[text]") {
    const TreeReading read = read_tree("height = 3\n[leaf]\ncount = 1\n[[leaves]]\ncount = 2\n");
    CHECK(read.errors == 0);
    CHECK(read.unread.empty());
    CHECK_FALSE(read.unread.is_in(read.tree.span));
    CHECK_FALSE(read.unread.has_field(read.tree.span, "height"));
}

TEST_CASE("a section with a wrong field keeps the rest, and only that field is unread", "[text]") {
    const TreeReading read = read_tree(
        "[leaf]\ncount = \"two\"\nlabel = \"kept\"\n[[leaves]]\ncount = 1\n[[leaves]]\ncount = 77\n");
    REQUIRE(read.tree.leaf);
    CHECK(read.tree.leaf->label == "kept");
    REQUIRE(read.tree.leaves.size() == 2);
    CHECK(read.tree.leaves[0].count == 1);
    CHECK(read.unread.has_field(read.tree.leaf->span, "count"));
    CHECK_FALSE(read.unread.has_field(read.tree.leaf->span, "label"));
    CHECK(read.unread.explains(read.tree.leaf->span));
    CHECK_FALSE(read.unread.is_in(read.tree.leaves[0].span));
    CHECK(read.unread.explains(read.tree.leaves[1].span));
    // The tree contains the unread fields, but mistakes about the tree itself do not follow from them.
    CHECK(read.unread.is_in(read.tree.span));
    CHECK_FALSE(read.unread.has_field(read.tree.span, "leaf"));
    CHECK_FALSE(read.unread.explains(read.tree.span));
}

TEST_CASE("a value in place of a section is an unread field of its parent", "[text]") {
    const TreeReading read = read_tree("leaf = 3\nheight = 2\n");
    CHECK_FALSE(read.tree.leaf);
    CHECK(read.unread.has_field(read.tree.span, "leaf"));
    CHECK_FALSE(read.unread.has_field(read.tree.span, "height"));
    CHECK(read.unread.explains(read.tree.span));
}

TEST_CASE("a list with too many sections is an unread field", "[text]") {
    const TreeReading read =
        read_tree("[[leaves]]\ncount = 1\n[[leaves]]\ncount = 1\n[[leaves]]\ncount = 1\n");
    CHECK(read.tree.leaves.size() == 2);
    CHECK(read.unread.has_field(read.tree.span, "leaves"));
}

TEST_CASE("a missing field is unread", "[text]") {
    const TreeReading read = read_tree("[leaf]\nlabel = \"no count\"\n");
    REQUIRE(read.tree.leaf);
    CHECK(read.unread.has_field(read.tree.leaf->span, "count"));
    CHECK_FALSE(read.unread.has_field(read.tree.leaf->span, "label"));
}

TEST_CASE("a misspelt name stands for the field it is close to, any other name for every field", "[text]") {
    const TreeReading misspelt = read_tree("heigth = 2\n");
    CHECK(misspelt.unread.has_field(misspelt.tree.span, "height"));
    CHECK_FALSE(misspelt.unread.has_field(misspelt.tree.span, "leaf"));
    const TreeReading unknown = read_tree("zzzzzzzz = 2\n");
    CHECK(unknown.unread.has_field(unknown.tree.span, "height"));
    CHECK(unknown.unread.has_field(unknown.tree.span, "leaf"));
}

TEST_CASE("a mistake within an unread value follows from it, one beside it does not", "[text]") {
    const TreeReading read = read_tree("parts = { oak = \"many\", elm = 1 }\nheight = 2\n");
    REQUIRE(read.tree.parts.size() == 2);
    CHECK(read.unread.explains(read.tree.parts[0].span));
    CHECK(read.unread.has_field(read.tree.span, "parts"));
    SourceSpan height = read.tree.span;
    height.begin = 40;
    height.end = 49;
    CHECK_FALSE(read.unread.explains(height));
}

TEST_CASE("a named section with a wrong field is known by its name too", "[text]") {
    const TreeReading read = read_tree("[named.oak]\ncount = -1\n[named.elm]\ncount = 1\n");
    REQUIRE(read.tree.named.size() == 2);
    CHECK(read.unread.is_in(read.tree.named[0].span));
    CHECK_FALSE(read.unread.explains(read.tree.named[0].span));
    CHECK(read.unread.explains(read.tree.named[0].value.span));
    CHECK_FALSE(read.unread.is_in(read.tree.named[1].span));
}

TEST_CASE("a section that belongs to no text is never unread", "[text]") {
    UnreadFields unread;
    unread.add_field({}, "height");
    unread.add_section({});
    CHECK_FALSE(unread.has_field({}, "height"));
    CHECK_FALSE(unread.is_in({}));
}

TEST_CASE("a mistake without a place in the text is doubtful only if something is unread", "[text]") {
    CHECK_FALSE(UnreadFields{}.explains({}));
    CHECK(read_tree("height = \"high\"\n").unread.explains({}));
}
