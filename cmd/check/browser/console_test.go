//go:build browser

package browser

import (
	"context"
	"fmt"
	"net/url"
	"strings"
	"sync"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// consoleLog collects what the browser complains of while a page is open.
type consoleLog struct {
	host string
	mu   sync.Mutex
	said []string
}

// listen keeps what a tab complains of. Dialogs are closed as they open, so that the page goes on.
func (b *chromium) listen(ctx context.Context) (*consoleLog, error) {
	e := &consoleLog{host: b.host}
	err := chromedp.Listen(ctx, func(ev any) {
		e.hear(ev)
		if _, ok := ev.(*page.EventJavascriptDialogOpening); ok {
			go chromedp.Call(ctx, page.HandleJavaScriptDialog, page.HandleJavaScriptDialogParams{})
		}
	})
	return e, err
}

func (e *consoleLog) say(format string, args ...any) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.said = append(e.said, fmt.Sprintf(format, args...))
}

// heard is what was said so far.
func (e *consoleLog) heard() []string {
	e.mu.Lock()
	defer e.mu.Unlock()
	return append([]string(nil), e.said...)
}

func (e *consoleLog) hear(ev any) {
	switch ev := ev.(type) {
	case *runtime.EventExceptionThrown:
		text := ev.ExceptionDetails.Text
		if x := ev.ExceptionDetails.Exception; x != nil {
			text += " " + x.Description
		}
		e.say("script error: %s", text)
	case *runtime.EventConsoleAPICalled:
		e.say("the page writes to the console (%s)", ev.Type)
	case *log.EventEntryAdded:
		if ev.Entry.Level == log.EntryLevelError {
			e.say("browser error: %s %s", ev.Entry.Text, strings.ReplaceAll(ev.Entry.URL, e.host, "site"))
		}
	case *page.EventJavascriptDialogOpening:
		e.say("a dialog opened: %s", ev.Message)
	case *page.EventWindowOpen:
		e.say("a window opened: %s", ev.URL)
	case *network.EventRequestWillBeSent:
		if u, err := url.Parse(ev.Request.URL); err == nil && u.Host != e.host && !strings.HasPrefix(u.Scheme, "data") {
			e.say("a request leaves the site: %s", ev.Request.URL)
		}
	}
}

// send makes an action of a command whose result does not matter.
func send[P, R any](cmd cdp.Command[P, R], params P) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, cmd, params)
		return err
	})
}
