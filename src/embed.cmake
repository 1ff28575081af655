# fw_embed(layer folder name): compiles every text file of the kinds below in `folder` into layer `layer` as
# embedded_<name>(), declared in src/<layer>/embedded.h as
#   std::span<const EmbeddedFile> embedded_<name>();     EmbeddedFile{path below folder, text}
# One C++ raw string per file, written again only when a file changes.
set(FW_EMBED_SELF ${CMAKE_CURRENT_LIST_FILE})
set(FW_EMBED_KINDS *.toml *.csv *.svg *.html *.css *.js *.md *.txt)

if(FW_EMBED_RUN)  # script mode: FW_EMBED_ROOT, FW_EMBED_NAME, FW_EMBED_OUT
  list(TRANSFORM FW_EMBED_KINDS PREPEND ${FW_EMBED_ROOT}/)
  file(GLOB_RECURSE files RELATIVE ${FW_EMBED_ROOT} ${FW_EMBED_KINDS})
  list(SORT files)
  set(text "#include \"embedded.h\"\n\nnamespace fadewright {\nnamespace {\nconstexpr EmbeddedFile kFiles[] = {\n")
  foreach(path IN LISTS files)
    file(READ ${FW_EMBED_ROOT}/${path} content)
    # A string literal may be at most 64 KiB by the standard; longer files are given in pieces.
    string(LENGTH "${content}" size)
    set(at 0)
    set(literal "")
    while(at LESS size)
      string(SUBSTRING "${content}" ${at} 12000 piece)
      string(APPEND literal "R\"fwtext(${piece})fwtext\"\n")
      math(EXPR at "${at} + 12000")
    endwhile()
    string(APPEND text "{\"${path}\", ${literal}},\n")
  endforeach()
  string(APPEND text "};\n}  // namespace\n\nstd::span<const EmbeddedFile> embedded_${FW_EMBED_NAME}() { return kFiles; }\n\n}  // namespace fadewright\n")
  file(WRITE ${FW_EMBED_OUT} "${text}")
  return()
endif()

function(fw_embed layer folder name)
  set(root ${CMAKE_CURRENT_SOURCE_DIR}/${folder})
  set(out ${CMAKE_CURRENT_BINARY_DIR}/embedded_${name}.cpp)
  list(TRANSFORM FW_EMBED_KINDS PREPEND ${root}/ OUTPUT_VARIABLE globs)
  file(GLOB_RECURSE files CONFIGURE_DEPENDS ${globs})
  add_custom_command(OUTPUT ${out}
    COMMAND ${CMAKE_COMMAND} -DFW_EMBED_RUN=1 -DFW_EMBED_ROOT=${root} -DFW_EMBED_NAME=${name}
            -DFW_EMBED_OUT=${out} -P ${FW_EMBED_SELF}
    DEPENDS ${files} ${FW_EMBED_SELF} VERBATIM)
  set_source_files_properties(${out} PROPERTIES SKIP_UNITY_BUILD_INCLUSION ON)
  target_sources(fw_${layer} PRIVATE ${out})
  target_include_directories(fw_${layer} PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/src/${layer})
endfunction()
